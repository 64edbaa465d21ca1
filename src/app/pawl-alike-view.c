#include "app/pawl-alike-view.h"

#include "app/pawl-sketch-view.h"
#include "app/pawl-tray-words.h"
#include "fit/pawl-shape.h"

/* A look-alike as a candidate whose place is on the tray. */
static void
add_candidate (PawlRule *rule, const PawlTrays *trays, const PawlCandidate *from)
{
  PawlCandidate *candidate = pawl_candidate_new ();
  const PawlTrayPlace *place = pawl_trays_lookup (trays, from->part);

  candidate->part = g_strdup (from->part);
  candidate->item = g_strdup (from->item);
  candidate->name = g_strdup (from->name);
  candidate->place = place != NULL ? pawl_tray_words_describe_place (place) : g_strdup ("");
  candidate->dimension = from->dimension;
  candidate->shape = from->shape != NULL ? pawl_shape_dup (from->shape) : NULL;
  g_ptr_array_add (rule->candidates, candidate);
}

/* (transfer full): the two in their places; wrong is when they lie the other way. */
static PawlRule *
make_rule (const PawlTrays *trays, const PawlAlike *alike)
{
  PawlRule *rule = pawl_rule_new (PAWL_RULE_WHICH);

  rule->dimension_name = g_strdup (alike->rule->dimension_name);
  rule->part = g_strdup (alike->part->part);
  add_candidate (rule, trays, alike->part);
  add_candidate (rule, trays, alike->other);
  return rule;
}

static void
append_words (GtkWidget *box, const char *name, const char *words)
{
  g_autofree char *text = g_strdup_printf ("%s\n%s", name, words);
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "difference");
  gtk_box_append (GTK_BOX (box), label);
}

static void
append_sketch (GtkWidget *box, PawlSession *session, const PawlTrays *trays, const PawlAlike *alike)
{
  PawlRule *rule = make_rule (trays, alike);
  GtkWidget *sketch = pawl_sketch_view_new (rule, session);

  g_object_set_data_full (G_OBJECT (sketch), "alike-rule", rule, (GDestroyNotify) pawl_rule_free);
  gtk_box_append (GTK_BOX (box), sketch);
}

/* A pair is shown once in a step: with the part that comes first. */
static gboolean
was_shown (const PawlStep *step, const char *part, const char *other)
{
  for (char **id = step->removes; *id != NULL && !g_str_equal (*id, part); id++)
    if (g_str_equal (*id, other))
      return TRUE;
  return FALSE;
}

gboolean
pawl_alike_view_fill (GtkWidget *box, PawlSession *session, const PawlTrays *trays, const PawlStep *step)
{
  PawlJob *job = pawl_session_get_job (session);
  PawlSketchOptions lengths = pawl_session_get_lengths (session);
  gboolean is_any = FALSE;

  for (char **id = step->removes; *id != NULL; id++)
    {
      g_autoptr(GPtrArray) alikes = pawl_alike_list (pawl_job_get_procedure (job), pawl_job_get_variant (job), *id);

      for (guint i = 0; i < alikes->len; i++)
        {
          const PawlAlike *alike = alikes->pdata[i];
          g_autofree char *words = NULL;

          if (was_shown (step, *id, alike->other->part))
            continue;
          words = pawl_tray_words_describe_alike (alike, &lengths);
          append_words (box, pawl_procedure_lookup_part (pawl_job_get_procedure (job), *id)->name, words);
          append_sketch (box, session, trays, alike);
          is_any = TRUE;
        }
    }
  return is_any;
}
