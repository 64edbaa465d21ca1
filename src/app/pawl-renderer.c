#include "app/pawl-renderer.h"

#include <epoxy/gl.h>

gboolean
pawl_renderer_is_software (const char *name)
{
  static const char * const software[] = { "llvmpipe", "softpipe", "swrast", "software", "lavapipe" };
  g_autofree char *lower = g_ascii_strdown (name, -1);

  for (guint i = 0; i < G_N_ELEMENTS (software); i++)
    if (strstr (lower, software[i]) != NULL)
      return TRUE;
  return FALSE;
}

/* (transfer full) (nullable): NULL where there is no GL at all, and GTK draws by cairo anyway. */
static char *
find_name (GdkDisplay *display)
{
  g_autoptr(GdkGLContext) context = gdk_display_create_gl_context (display, NULL);
  char *name;

  if (context == NULL || !gdk_gl_context_realize (context, NULL))
    return NULL;
  gdk_gl_context_make_current (context);
  name = g_strdup ((const char *) glGetString (GL_RENDERER));
  gdk_gl_context_clear_current ();
  return name;
}

void
pawl_renderer_choose (GdkDisplay *display)
{
  g_autofree char *name = NULL;

  if (g_getenv ("GSK_RENDERER") != NULL)
    return;
  name = find_name (display);
  if (name != NULL && pawl_renderer_is_software (name))
    g_setenv ("GSK_RENDERER", "cairo", FALSE);
}
