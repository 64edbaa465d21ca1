#include "app/pawl-app.h"

#include <glib/gi18n.h>
#include "app/pawl-application.h"
#include "app/pawl-renderer.h"

int
pawl_app_run (int argc, char **argv)
{
  const char *data_folder = g_getenv ("PAWL_DATA_DIR");
  g_autoptr(PawlApplication) application = NULL;

  bindtextdomain (GETTEXT_PACKAGE, PAWL_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  if (!gtk_init_check ())
    {
      g_printerr ("%s\n", _("pawl: there is no display to open a window on; “pawl work”, “pawl show” and “pawl report” work without one"));
      return 2;
    }
  pawl_renderer_choose (gdk_display_get_default ());
  g_set_application_name ("Pawl");
  application = pawl_application_new (data_folder != NULL ? data_folder : PAWL_DATA_DIR_INSTALLED, G_APPLICATION_DEFAULT_FLAGS);
  return g_application_run (G_APPLICATION (application), argc, argv) == 0 ? 0 : 2;
}
