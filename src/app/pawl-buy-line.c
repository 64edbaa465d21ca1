#include "app/pawl-buy-line.h"

#include <glib/gi18n.h>

struct _PawlBuyLine {
  GObject parent_instance;

  char *job;
  char *texts[PAWL_BUY_N_COLUMNS];
};

G_DEFINE_FINAL_TYPE (PawlBuyLine, pawl_buy_line, G_TYPE_OBJECT)

const char *
pawl_buy_get_word (PawlWantKind kind)
{
  switch (kind)
    {
    case PAWL_WANT_MISSING: return _("Missing");
    case PAWL_WANT_ORDERED: return _("Ordered");
    case PAWL_WANT_REPLACE: return _("To replace");
    case PAWL_WANT_KIT:     return _("Short in the kit");
    case PAWL_WANT_SUPPLY:  return _("Running out");
    default:                g_return_val_if_reached ("");
    }
}

char *
pawl_buy_describe_job (PawlJob *job)
{
  GString *text = g_string_new (pawl_job_get_field (job, "unit"));
  const char *fields[] = { "serial", "work-order" };

  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    if (*pawl_job_get_field (job, fields[i]) != '\0')
      g_string_append_printf (text, ", %s", pawl_job_get_field (job, fields[i]));
  return g_string_free (text, FALSE);
}

static char *
describe_why (const PawlWant *want)
{
  return g_strdup_printf ("%s%s%s", pawl_buy_get_word (want->kind), *want->why != '\0' ? ": " : "", want->why);
}

/* A day that is over is said to be. */
static char *
describe_expected (PawlJob *job, const PawlWant *want)
{
  g_autofree char *today = g_date_time_format (pawl_job_peek_now (job), "%F");

  if (*want->expected == '\0' || g_strcmp0 (want->expected, today) >= 0)
    return g_strdup (want->expected);
  return g_strdup_printf (_("%s, overdue"), want->expected);
}

PawlBuyLine *
pawl_buy_line_new (PawlJob *job, const PawlWant *want)
{
  PawlBuyLine *self = g_object_new (PAWL_TYPE_BUY_LINE, NULL);

  self->job = g_strdup (pawl_job_get_id (job));
  self->texts[PAWL_BUY_JOB] = pawl_buy_describe_job (job);
  self->texts[PAWL_BUY_WHAT] = g_strdup_printf ("%s%s%s", want->item, *want->item != '\0' ? "  " : "", want->name);
  self->texts[PAWL_BUY_QUANTITY] = want->quantity > 0 ? g_strdup_printf ("%u", want->quantity) : g_strdup ("");
  self->texts[PAWL_BUY_WHY] = describe_why (want);
  self->texts[PAWL_BUY_FROM] = g_strdup (want->from);
  self->texts[PAWL_BUY_EXPECTED] = describe_expected (job, want);
  return self;
}

const char *
pawl_buy_line_get_text (PawlBuyLine *self, PawlBuyColumn column)
{
  g_return_val_if_fail (column < PAWL_BUY_N_COLUMNS, "");
  return self->texts[column];
}

const char *
pawl_buy_line_get_job (PawlBuyLine *self)
{
  return self->job;
}

static void
pawl_buy_line_finalize (GObject *object)
{
  PawlBuyLine *self = PAWL_BUY_LINE (object);

  g_free (self->job);
  for (guint i = 0; i < PAWL_BUY_N_COLUMNS; i++)
    g_free (self->texts[i]);
  G_OBJECT_CLASS (pawl_buy_line_parent_class)->finalize (object);
}

static void
pawl_buy_line_class_init (PawlBuyLineClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pawl_buy_line_finalize;
}

static void
pawl_buy_line_init (PawlBuyLine *self)
{
}
