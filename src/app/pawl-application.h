/* The application: options, one window, the files it is asked to open. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define PAWL_APPLICATION_ID "org.pawl.Pawl"

#define PAWL_TYPE_APPLICATION (pawl_application_get_type ())
G_DECLARE_FINAL_TYPE (PawlApplication, pawl_application, PAWL, APPLICATION, GtkApplication)

/* @data_folder: where procedures are found when neither --data nor $PAWL_DATA_DIR says otherwise. */
PawlApplication *pawl_application_new (const char *data_folder, GApplicationFlags flags);

G_END_DECLS
