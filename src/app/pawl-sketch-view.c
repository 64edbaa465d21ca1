#include "app/pawl-sketch-view.h"

#include <glib/gi18n.h>
#include "app/pawl-look.h"

#define LINES_HIGH 18
#define LEAST_HEIGHT 240
#define MOST_HEIGHT 460
#define CIRCLE_HEIGHT 1.25
#define LIKELY_WIDTH 440 /* of the step panel; only whether there is a circle hangs on it */

#define SUBJECT "subject"

/* What a view shows, kept at its widget. */
typedef struct {
  const PawlRule *rule;
  PawlSession    *session;
  PawlRule        marked; /* as @rule, of which it borrows everything else, with the datum of this job */
  char           *datum;  /* (nullable) owned */
} Subject;

/* So many letters of a note fit beside a sketch; the whole of it stands below. */
#define MOST_DATUM 28

static void
free_subject (gpointer data)
{
  Subject *subject = data;

  g_object_unref (subject->session);
  g_free (subject->datum);
  g_free (subject);
}

static const Subject *
get_subject (GtkWidget *view)
{
  return g_object_get_data (G_OBJECT (view), SUBJECT);
}

static const PawlRule *
peek_rule (GtkWidget *view)
{
  const Subject *subject = get_subject (view);

  return subject->datum != NULL ? &subject->marked : subject->rule;
}

void
pawl_sketch_view_set_datum (GtkWidget *view, const char *datum)
{
  Subject *subject = g_object_get_data (G_OBJECT (view), SUBJECT);
  g_autofree char *begun = datum != NULL ? g_utf8_substring (datum, 0, MIN (MOST_DATUM, g_utf8_strlen (datum, -1))) : NULL;
  char *shown = begun == NULL ? NULL : g_utf8_strlen (datum, -1) > MOST_DATUM ? g_strdup_printf ("%s…", begun) : g_strdup (begun);

  if (g_strcmp0 (shown, subject->datum) == 0)
    {
      g_free (shown);
      return;
    }
  g_free (subject->datum);
  subject->datum = shown;
  subject->marked = *subject->rule;
  subject->marked.datum = shown;
  pawl_sketch_view_refresh (view);
}

PawlSketchOptions
pawl_sketch_view_make_options (GtkWidget *widget, PawlSession *session)
{
  PawlSketchOptions lengths = pawl_session_get_lengths (session);

  return (PawlSketchOptions) {
    .palette = pawl_look_get_palette (widget),
    .unit = lengths.unit,
    .decimal_mark = lengths.decimal_mark,
    .units_per_mm = pawl_look_get_pixels_per_mm (widget),
    .distance_mm = 0,
    .text_size = pawl_look_get_text_pixels (widget),
    .right_word = _("Right"),
    .wrong_word = _("Wrong"),
    .either_word = _("Either way"),
    .nothing_word = _("nothing to see"),
    .mark_word = _("only the mark tells"),
    .closed_word = _("nothing to see once it is closed"),
    /* Translators: of a hole, as in "79 % open" */
    .open_word = _("open"),
    .exaggerated_word = _("exaggerated"),
    .lacks_word = _("No sketch. The rule lacks"),
  };
}

static PawlSketchOptions
make_options (GtkWidget *view)
{
  return pawl_sketch_view_make_options (view, get_subject (view)->session);
}

static void
draw_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data G_GNUC_UNUSED)
{
  PawlSketchOptions options = make_options (GTK_WIDGET (area));
  PawlInks inks = pawl_palette_get_inks (options.palette);

  /* Its own paper, as holes and lenses are filled with it. */
  pawl_ink_set_source (&inks.paper, cr, 1);
  cairo_paint (cr);
  pawl_sketch_draw (peek_rule (GTK_WIDGET (area)), &options, cr, width, height);
}

/* Words take room beside the drawing: the larger the text, the taller the sketch; a circle below it takes more. */
static void
size_to_text (GtkWidget *area)
{
  PawlSketchOptions options = make_options (area);
  double height = CLAMP (pawl_look_get_text_pixels (area) * LINES_HIGH, LEAST_HEIGHT, MOST_HEIGHT);

  if (pawl_sketch_get_exaggeration (peek_rule (area), &options, LIKELY_WIDTH, height) > 1)
    height = MIN (height * CIRCLE_HEIGHT, MOST_HEIGHT);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), (int) height);
}

static void
describe (GtkWidget *area)
{
  PawlSketchOptions options = make_options (area);
  g_autofree char *words = pawl_sketch_describe (peek_rule (area), &options);

  gtk_accessible_update_property (GTK_ACCESSIBLE (area), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
}

static void
realize_cb (GtkWidget *area)
{
  describe (area);
  size_to_text (area);
}

void
pawl_sketch_view_refresh (GtkWidget *view)
{
  if (!gtk_widget_get_realized (view))
    return;
  describe (view);
  gtk_widget_queue_draw (view);
}

GtkWidget *
pawl_sketch_view_new (const PawlRule *rule, PawlSession *session)
{
  GtkWidget *area = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  Subject *subject = g_new0 (Subject, 1);

  *subject = (Subject) { .rule = rule, .session = g_object_ref (session) };
  g_object_set_data_full (G_OBJECT (area), SUBJECT, subject, free_subject);
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), 300);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), LEAST_HEIGHT);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw_cb, NULL, NULL);
  g_signal_connect (area, "realize", G_CALLBACK (realize_cb), NULL);
  g_signal_connect (area, "map", G_CALLBACK (size_to_text), NULL);
  gtk_widget_add_css_class (area, "sketch");
  gtk_widget_set_overflow (area, GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (area), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Right and wrong, drawn to one scale"), -1);
  return area;
}
