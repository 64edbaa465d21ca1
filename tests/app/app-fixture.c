#include "app-fixture.h"

#include <glib/gstdio.h>

static GDateTime *
now (gpointer data)
{
  return g_date_time_ref (((Fixture *) data)->now);
}

static char *
new_id (gpointer data)
{
  return g_strdup_printf ("00000000-0000-4000-8000-%012u", ++((Fixture *) data)->n_ids);
}

char *
fixture_dup_data_path (const char *name)
{
  return g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), "tests", "data", name, NULL);
}

static void
open_bench (Fixture *self, const char *name)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *path = fixture_dup_data_path (name != NULL ? name : "good/minimal.xml");
  g_autofree char *figure_name = NULL, *figure_path = NULL;
  g_autoptr(GBytes) figure = NULL;
  g_autoptr(PawlEntry) opening = pawl_answer_new_opening (&(PawlIntake) { .serial = "DC1-7", .work_order = "TS-9", .is_ask_first = self->is_ask_first }, (PawlHand) { FIXTURE_PERSON, self->now });
  char *bytes;
  gsize size;

  self->procedure = pawl_procedure_load (path, NULL, &error);
  g_assert_no_error (error);
  figure_name = g_path_get_basename (pawl_procedure_get_figure (self->procedure));
  figure_path = g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), "tests", "data", "svg", figure_name, NULL);
  if (*pawl_procedure_get_figure (self->procedure) != '\0')
    {
      g_file_get_contents (figure_path, &bytes, &size, &error);
      g_assert_no_error (error);
      figure = g_bytes_new_take (bytes, size);
    }
  self->bench = pawl_bench_open (self->record, self->procedure, figure, opening, &error);
  g_assert_no_error (error);
}

void
fixture_set_up (Fixture *self, gconstpointer data)
{
  g_autoptr(GError) error = NULL;

  self->folder = g_dir_make_tmp ("pawl-app-XXXXXX", &error);
  g_assert_no_error (error);
  self->record_path = g_build_filename (self->folder, "record.db", NULL);
  self->now = g_date_time_new_utc (2026, 11, 25, 9, 0, 0);
  self->host = (PawlRecordHost) { now, new_id, self };
  self->record = pawl_record_open (self->record_path, PAWL_RECORD_OPEN_CREATE, &self->host, &error);
  g_assert_no_error (error);
  open_bench (self, data);
  self->session = pawl_session_new (self->bench, FIXTURE_PERSON);
}

void
fixture_tear_down (Fixture *self, gconstpointer data)
{
  g_autoptr(GDir) directory = NULL;
  const char *name;

  g_clear_object (&self->session);
  g_clear_object (&self->bench);
  g_clear_object (&self->procedure);
  g_clear_object (&self->record);
  directory = g_dir_open (self->folder, 0, NULL);
  while ((name = g_dir_read_name (directory)) != NULL)
    {
      g_autofree char *path = g_build_filename (self->folder, name, NULL);

      g_remove (path);
    }
  g_rmdir (self->folder);
  g_date_time_unref (self->now);
  g_free (self->record_path);
  g_free (self->folder);
}

void
fixture_wait (Fixture *self, int minutes)
{
  GDateTime *later = g_date_time_add_minutes (self->now, minutes);

  g_date_time_unref (self->now);
  self->now = later;
  pawl_bench_refresh (self->bench);
}

const PawlAsk *
fixture_lookup_ask (Fixture *self, const char *ask_id)
{
  const PawlAsk *ask = pawl_procedure_lookup_ask (self->procedure, ask_id, NULL);

  g_assert_nonnull (ask);
  return ask;
}

void
fixture_answer (Fixture *self, const char *ask_id, const char *answer)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlEntry) entry = pawl_answer_new_outcome (fixture_lookup_ask (self, ask_id), answer, pawl_session_make_hand (self->session));

  pawl_session_take (self->session, entry, NULL, &error);
  g_assert_no_error (error);
}

void
fixture_finish_first (Fixture *self)
{
  g_autoptr(GError) error = NULL;

  fixture_answer (self, "mark", "to the flange");
  pawl_session_advance (self->session, &error);
  g_assert_no_error (error);
}

void
fixture_put_in (Fixture *self, const char *mark, ...)
{
  g_autoptr(PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_INSTRUMENT_STATED, mark, FIXTURE_PERSON, self->now);
  g_autoptr(GError) error = NULL;
  const char *field;
  va_list fields;

  va_start (fields, mark);
  while ((field = va_arg (fields, const char *)) != NULL)
    pawl_entry_set (entry, field, va_arg (fields, const char *));
  va_end (fields);
  pawl_register_append (self->record, entry, &error);
  g_assert_no_error (error);
  pawl_session_forget_register (self->session);
}
