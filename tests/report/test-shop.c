/* The shop's settings: kept, read again, and refused with what would be right. */
#include <glib/gstdio.h>

#include "report/pawl-shop.h"

static char *
make_path (char **folder)
{
  *folder = g_dir_make_tmp ("pawl-shop-XXXXXX", NULL);
  return g_build_filename (*folder, "shop.ini", NULL);
}

static void
test_round_trip (void)
{
  g_autofree char *folder = NULL, *path = make_path (&folder), *text = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlShop) shop = NULL, again = NULL;

  g_assert_true (g_file_set_contents (path, "# ours\n[shop]\nname=Old\n[till]\nfloat=20\n", -1, NULL));
  shop = pawl_shop_load (path, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (shop->name, ==, "Old");
  g_assert_cmpint (shop->paper, ==, PAWL_PAPER_A4);
  pawl_shop_set_text (&shop->name, "Polmear Engine Shop (invented)");
  pawl_shop_set_text (&shop->address, "2 Slip Lane\nPolmear; “old town”");
  pawl_shop_set_text (&shop->policy, "risk 5 %");
  pawl_shop_set_text (&shop->warranty, NULL);
  shop->paper = PAWL_PAPER_LETTER;
  shop->keep_years = 3;
  g_assert_true (pawl_shop_save (shop, path, &error));
  again = pawl_shop_load (path, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (again->name, ==, shop->name);
  g_assert_cmpstr (again->address, ==, "2 Slip Lane\nPolmear; “old town”");
  g_assert_cmpstr (again->policy, ==, "risk 5 %");
  g_assert_cmpstr (again->warranty, ==, "");
  g_assert_cmpint (again->paper, ==, PAWL_PAPER_LETTER);
  g_assert_cmpuint (again->keep_years, ==, 3);
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_assert_nonnull (g_strstr_len (text, -1, "float=20")); /* what is not ours stays */
  g_remove (path);
  g_rmdir (folder);
}

static void
test_none (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlShop) shop = pawl_shop_load ("/nonexistent/pawl/shop.ini", &error);

  g_assert_no_error (error);
  g_assert_cmpstr (shop->name, ==, "");
  g_assert_cmpuint (shop->keep_years, ==, 0);
}

static const struct { const char *text, *message; } bad[] = {
  { "name=x\n", "can't be read" },
  { "[shop]\npaper=b5\n", "there is no paper “b5”; it is a4 or letter" },
  { "[shop]\npolicy=strict\n", "there is no policy “strict”; it is simple, guard-band" },
  { "[shop]\nkeep-years=for ever\n", "keep-years is “for ever”; it is a number of years" },
  { "[shop]\nkeep-years=-1\n", "keep-years is “-1”" },
  { "[shop]\nname=\xff\xfe\n", "name can't be read" },
};

static void
test_refusals (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autofree char *folder = NULL, *path = make_path (&folder);
      g_autoptr (GError) error = NULL;

      g_test_message ("%s", bad[i].message);
      g_assert_true (g_file_set_contents (path, bad[i].text, -1, NULL));
      g_assert_null (pawl_shop_load (path, &error));
      g_assert_error (error, PAWL_SHOP_ERROR, PAWL_SHOP_ERROR_BAD);
      g_assert_true (g_str_has_prefix (error->message, path));
      g_assert_nonnull (g_strstr_len (error->message, -1, bad[i].message));
      g_remove (path);
      g_rmdir (folder);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shop/round-trip", test_round_trip);
  g_test_add_func ("/shop/none", test_none);
  g_test_add_func ("/shop/refusals", test_refusals);
  return g_test_run ();
}
