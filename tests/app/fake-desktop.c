#include "fake-desktop.h"

#define PATH "/org/freedesktop/Notifications"
#define NAME "org.freedesktop.Notifications"

static const char introspection[] =
  "<node><interface name='org.freedesktop.Notifications'>"
  "<method name='Notify'><arg type='s' direction='in'/><arg type='u' direction='in'/><arg type='s' direction='in'/><arg type='s' direction='in'/>"
  "<arg type='s' direction='in'/><arg type='as' direction='in'/><arg type='a{sv}' direction='in'/><arg type='i' direction='in'/><arg type='u' direction='out'/></method>"
  "<method name='CloseNotification'><arg type='u' direction='in'/></method>"
  "<signal name='ActionInvoked'><arg type='u'/><arg type='s'/></signal>"
  "<signal name='NotificationClosed'><arg type='u'/><arg type='u'/></signal>"
  "</interface></node>";

struct _FakeDesktop {
  GDBusConnection *connection;
  GDBusNodeInfo   *info;
  GPtrArray       *notes; /* (element-type FakeNote) */
  guint            object_id, name_id, n_given, n_shown;
  gboolean         is_named;
};

static void
note_free (gpointer data)
{
  FakeNote *note = data;

  g_free (note->title);
  g_free (note->body);
  g_free (note);
}

static FakeNote *
lookup (FakeDesktop *self, guint id)
{
  for (guint i = 0; i < self->notes->len; i++)
    if (((FakeNote *) self->notes->pdata[i])->id == id)
      return self->notes->pdata[i];
  return NULL;
}

static void
show (FakeDesktop *self, GVariant *parameters, GDBusMethodInvocation *invocation)
{
  g_autoptr(GVariant) hints = NULL;
  const char *title, *body;
  guint id;
  FakeNote *note;

  g_variant_get (parameters, "(&su&s&s&s^a&s@a{sv}i)", NULL, &id, NULL, &title, &body, NULL, &hints, NULL);
  note = lookup (self, id);
  if (note == NULL)
    {
      note = g_new0 (FakeNote, 1);
      note->id = ++self->n_given;
      g_ptr_array_add (self->notes, note);
    }
  g_free (note->title);
  g_free (note->body);
  note->title = g_strdup (title);
  note->body = g_strdup (body);
  note->has_sound = g_variant_lookup (hints, "sound-name", "s", NULL) || g_variant_lookup (hints, "sound-file", "s", NULL);
  note->n_shown++;
  self->n_shown++;
  g_dbus_method_invocation_return_value (invocation, g_variant_new ("(u)", note->id));
}

static void
called_cb (GDBusConnection *connection, const char *sender, const char *path, const char *interface, const char *method, GVariant *parameters,
           GDBusMethodInvocation *invocation, gpointer data)
{
  FakeDesktop *self = data;
  guint id;

  if (g_str_equal (method, "Notify"))
    {
      show (self, parameters, invocation);
      return;
    }
  g_variant_get (parameters, "(u)", &id);
  g_assert_nonnull (lookup (self, id));
  g_ptr_array_remove (self->notes, lookup (self, id));
  g_dbus_method_invocation_return_value (invocation, NULL);
}

static void
named_cb (GDBusConnection *connection, const char *name, gpointer data)
{
  ((FakeDesktop *) data)->is_named = TRUE;
}

FakeDesktop *
fake_desktop_new (void)
{
  static const GDBusInterfaceVTable table = { .method_call = called_cb };
  FakeDesktop *self = g_new0 (FakeDesktop, 1);
  g_autoptr(GError) error = NULL;

  self->notes = g_ptr_array_new_with_free_func (note_free);
  self->info = g_dbus_node_info_new_for_xml (introspection, &error);
  g_assert_no_error (error);
  self->connection = g_dbus_connection_new_for_address_sync (g_getenv ("DBUS_SESSION_BUS_ADDRESS"), G_DBUS_CONNECTION_FLAGS_AUTHENTICATION_CLIENT
                                                             | G_DBUS_CONNECTION_FLAGS_MESSAGE_BUS_CONNECTION, NULL, NULL, &error);
  g_assert_no_error (error);
  self->object_id = g_dbus_connection_register_object (self->connection, PATH, self->info->interfaces[0], &table, self, NULL, &error);
  g_assert_no_error (error);
  self->name_id = g_bus_own_name_on_connection (self->connection, NAME, G_BUS_NAME_OWNER_FLAGS_NONE, named_cb, NULL, self, NULL);
  while (!self->is_named)
    g_main_context_iteration (NULL, TRUE);
  return self;
}

void
fake_desktop_free (FakeDesktop *self)
{
  g_bus_unown_name (self->name_id);
  g_dbus_connection_unregister_object (self->connection, self->object_id);
  g_dbus_connection_close_sync (self->connection, NULL, NULL);
  g_object_unref (self->connection);
  g_dbus_node_info_unref (self->info);
  g_ptr_array_unref (self->notes);
  g_free (self);
}

guint
fake_desktop_count (FakeDesktop *self)
{
  return self->notes->len;
}

const FakeNote *
fake_desktop_find (FakeDesktop *self, const char *title)
{
  for (guint i = 0; i < self->notes->len; i++)
    if (g_str_has_prefix (((FakeNote *) self->notes->pdata[i])->title, title))
      return self->notes->pdata[i];
  return NULL;
}

static void
emit (FakeDesktop *self, const char *signal, GVariant *parameters)
{
  g_autoptr(GError) error = NULL;

  g_dbus_connection_emit_signal (self->connection, NULL, PATH, NAME, signal, parameters, &error);
  g_assert_no_error (error);
}

/* What was clicked on goes away. */
void
fake_desktop_click (FakeDesktop *self, guint id)
{
  g_assert_nonnull (lookup (self, id));
  emit (self, "ActionInvoked", g_variant_new ("(us)", id, "default"));
  emit (self, "NotificationClosed", g_variant_new ("(uu)", id, 2));
  g_ptr_array_remove (self->notes, lookup (self, id));
}

guint
fake_desktop_get_n_shown (FakeDesktop *self)
{
  return self->n_shown;
}

void
fake_desktop_sync (FakeDesktop *self, GDBusConnection *connection)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GVariant) answer = g_dbus_connection_call_sync (connection, g_dbus_connection_get_unique_name (self->connection), PATH, "org.freedesktop.DBus.Peer", "Ping",
                                                            NULL, NULL, G_DBUS_CALL_FLAGS_NONE, -1, NULL, &error);

  g_assert_no_error (error);
}
