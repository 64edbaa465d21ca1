/* One finding. */
#include "procedure/pawl-proof-private.h"

static const char * const severity_words[] = { "error", "warning", "advice" };

PawlFinding *
pawl_finding_new (PawlSeverity severity, const char *code, const char *file, int line, char *message_taken)
{
  PawlFinding *self = g_new0 (PawlFinding, 1);

  self->severity = severity;
  self->code = g_strdup (code);
  self->file = g_strdup (file);
  self->line = line;
  self->message = message_taken;
  return self;
}

void
pawl_finding_free (PawlFinding *self)
{
  g_free (self->code);
  g_free (self->file);
  g_free (self->message);
  g_free (self);
}

char *
pawl_finding_format (const PawlFinding *self)
{
  g_autofree char *place = self->line > 0 ? g_strdup_printf ("%s:%d", self->file, self->line) : g_strdup (self->file);

  return g_strdup_printf ("%s: %s: %s (%s)", place, severity_words[self->severity], self->message, self->code);
}
