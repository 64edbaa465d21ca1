#include "report/pawl-paper.h"

static const struct { const char *name; double width, height; } papers[] = {
  [PAWL_PAPER_A4]     = { "a4", 210 / 25.4 * 72, 297 / 25.4 * 72 },
  [PAWL_PAPER_LETTER] = { "letter", 8.5 * 72, 11 * 72 },
};

gboolean
pawl_paper_parse (const char *text, PawlPaper *paper)
{
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    if (g_ascii_strcasecmp (text, papers[i].name) == 0)
      {
        *paper = (PawlPaper) i;
        return TRUE;
      }
  return FALSE;
}

const char *
pawl_paper_get_name (PawlPaper paper)
{
  return papers[paper].name;
}

void
pawl_paper_get_size (PawlPaper paper, double *width_pt, double *height_pt)
{
  *width_pt = papers[paper].width;
  *height_pt = papers[paper].height;
}
