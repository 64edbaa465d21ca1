#include "app/pawl-plan-task.h"

#include "app/pawl-work.h"
#include "bench/pawl-bench.h"

typedef struct {
  char          *path;
  PawlRecordHost host;
  char          *job;      /* (nullable) */
  char          *hours;
  char          *language; /* (nullable) */
} Input;

static void
input_free (gpointer data)
{
  Input *input = data;

  g_free (input->path);
  g_free (input->job);
  g_free (input->hours);
  g_free (input->language);
  g_free (input);
}

void
pawl_day_plan_free (PawlDayPlan *self)
{
  pawl_work_plan_free (self->plan);
  g_ptr_array_unref (self->problems);
  g_free (self);
}

/* One job that can't be planned doesn't keep the others from it. */
static void
add_job (PawlDayPlan *self, PawlRecord *record, const char *id, const char *language)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlBench) bench = pawl_bench_resume (record, id, language, &error);
  g_autofree char *title = bench != NULL ? pawl_work_plan_make_title (pawl_bench_get_job (bench)) : NULL;

  if (bench == NULL || !pawl_work_plan_add_job (self->plan, pawl_bench_get_job (bench), title, &error))
    g_ptr_array_add (self->problems, g_strdup (error->message));
}

/* The longest untouched first, as `pawl plan` has them. */
static gboolean
add_jobs (PawlDayPlan *self, PawlRecord *record, const char *language, GError **error)
{
  g_autoptr(GPtrArray) lines = pawl_record_list_jobs (record, error);

  if (lines == NULL)
    return FALSE;
  for (guint i = MIN (lines->len, PAWL_DAY_PLAN_JOBS); i > 0; i--)
    {
      const PawlJobLine *line = lines->pdata[i - 1];

      if (!line->is_signed)
        add_job (self, record, line->id, language);
    }
  return TRUE;
}

/* Hours that can't be understood are told, and none are kept to. */
static void
set_hours (PawlDayPlan *self, const char *text)
{
  g_autoptr(GError) error = NULL;
  PawlTimes *hours = NULL;

  if (!pawl_hours_parse (text, &hours, &error))
    g_ptr_array_add (self->problems, g_strdup (error->message));
  pawl_work_plan_take_hours (self->plan, hours);
}

static void
plan_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Input *input = data;
  g_autoptr(PawlDayPlan) self = NULL;
  g_autoptr(GDateTime) now = NULL;
  GError *error = NULL;
  g_autoptr(PawlRecord) record = pawl_record_open (input->path, PAWL_RECORD_OPEN_READ_ONLY, &input->host, &error);

  if (record == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  now = pawl_record_dup_now (record);
  self = g_new0 (PawlDayPlan, 1);
  self->plan = pawl_work_plan_new (now);
  self->problems = g_ptr_array_new_with_free_func (g_free);
  set_hours (self, input->hours);
  if (input->job != NULL)
    add_job (self, record, input->job, input->language);
  else if (!add_jobs (self, record, input->language, &error))
    {
      g_task_return_error (task, error);
      return;
    }
  pawl_work_plan_work_out (self->plan, PAWL_SCHEDULE_EFFORT);
  g_task_return_pointer (task, g_steal_pointer (&self), (GDestroyNotify) pawl_day_plan_free);
}

void
pawl_day_plan_async (GtkWidget *page, PawlRecord *record, const char *job_id, const char *hours, const char *language, GCancellable *cancellable,
                     GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr(GTask) task = g_task_new (page, cancellable, callback, data);
  Input *input = g_new0 (Input, 1);

  input->path = g_strdup (pawl_record_get_path (record));
  input->host = *pawl_record_peek_host (record);
  input->job = g_strdup (job_id);
  input->hours = g_strdup (hours);
  input->language = g_strdup (language);
  g_task_set_task_data (task, input, input_free);
  pawl_work_start (task, page, plan_in_thread);
}

PawlDayPlan *
pawl_day_plan_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
