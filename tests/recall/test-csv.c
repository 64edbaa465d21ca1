/* CSV: the sentences of RFC 4180, section 2, one case each. Source: RFC 4180 (from memory); the expected lines follow from its rules. */
#include "recall/pawl-csv.h"

typedef struct {
  const char *name;
  const char *fields[4];
  gsize       n;
  const char *line;
} Case;

static const Case cases[] = {
  { "plain", { "aaa", "bbb", "ccc" }, 3, "aaa,bbb,ccc\r\n" },
  { "blanks are kept", { " a", "b ", "" }, 3, " a,b ,\r\n" },
  { "a comma", { "Pellow, Daunt", "x" }, 2, "\"Pellow, Daunt\",x\r\n" },
  { "a quote is doubled", { "1 1/64\"", "b" }, 2, "\"1 1/64\"\"\",b\r\n" },
  { "nothing but a quote", { "\"" }, 1, "\"\"\"\"\r\n" },
  { "a line end", { "two\nlines", "two\r\nmore" }, 2, "\"two\nlines\",\"two\r\nmore\"\r\n" },
  { "a return alone", { "a\rb" }, 1, "\"a\rb\"\r\n" },
  { "nothing", { NULL, "b", NULL }, 3, ",b,\r\n" },
  { "one empty field", { "" }, 1, "\"\"\r\n" },
  { "letters of any kind", { "Müller", "µm", "½" }, 3, "Müller,µm,½\r\n" },
  { "signs of a spreadsheet are data", { "-0.003", "=1+1", "+2" }, 3, "-0.003,=1+1,+2\r\n" },
};

static void
test_line (gconstpointer data)
{
  const Case *case_ = data;
  g_autoptr (GString) csv = g_string_new (NULL);

  pawl_csv_append (csv, case_->fields, case_->n);
  g_assert_cmpstr (csv->str, ==, case_->line);
}

static void
test_lines (void)
{
  g_autoptr (GString) csv = g_string_new (NULL);

  pawl_csv_append_line (csv, "job", "serial");
  pawl_csv_append_line (csv, "1", "SN-1907");
  g_assert_cmpstr (csv->str, ==, "job,serial\r\n1,SN-1907\r\n");
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_strconcat ("/csv/", cases[i].name, NULL);

      g_test_add_data_func (path, &cases[i], test_line);
    }
  g_test_add_func ("/csv/lines", test_lines);

  return g_test_run ();
}
