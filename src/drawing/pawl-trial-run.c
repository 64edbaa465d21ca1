/* One run of the helper: started, listened to, ended in time, waited for. */
#include "drawing/pawl-trial-private.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

/* More than the lines of the largest figure; a helper that says more is not in its right mind. */
#define MAX_ANSWER (256 * 1024)
/* Of its talk the end is kept. */
#define MAX_TALK   (16 * 1024)

typedef struct {
  int         answer_fd, talk_fd; /* -1 when at an end */
  GString    *answer;
  GString    *talk;               /* what it said on standard output and standard error: libraries say there why they gave up */
  GPollFD     cancel;             /* fd -1: can't be cancelled */
  gint64      deadline;           /* monotonic, microseconds */
  gboolean    is_late, is_cancelled;
  gboolean    lacks_memory;       /* said in talk that is gone already */
} Run;

/* ---- starting ---- */

/* The helper gets what it needs to find fonts and the sanitizers' options, and nothing else that happens to be set. */
static char **
make_environment (void)
{
  static const char * const names[] = { "HOME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_DATA_DIRS", "FONTCONFIG_FILE", "FONTCONFIG_PATH",
                                        "LD_LIBRARY_PATH", "ASAN_OPTIONS", "UBSAN_OPTIONS" };
  char **environment = g_environ_setenv (NULL, "LC_ALL", "C.UTF-8", TRUE);

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_getenv (names[i]))
      environment = g_environ_setenv (environment, names[i], g_getenv (names[i]), TRUE);
  return environment;
}

static gboolean
write_all (int fd, const char *data, gsize length)
{
  while (length > 0)
    {
      gssize n = write (fd, data, length);

      if (n < 0 && errno != EINTR)
        return FALSE;
      data += MAX (n, 0);
      length -= (gsize) MAX (n, 0);
    }
  return TRUE;
}

/* The bytes as a file without a name, which nobody can change any more. -1 with errno. */
static int
make_bytes_fd (GBytes *bytes)
{
  int fd = memfd_create ("figure", MFD_CLOEXEC | MFD_ALLOW_SEALING);

  if (fd >= 0 && write_all (fd, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes)) && lseek (fd, 0, SEEK_SET) == 0
      && fcntl (fd, F_ADD_SEALS, F_SEAL_WRITE | F_SEAL_GROW | F_SEAL_SHRINK | F_SEAL_SEAL) == 0)
    return fd;
  if (fd >= 0)
    close (fd);
  return -1;
}

/* Above the descriptors that the helper is given, so that putting one in its place covers no other. */
static gboolean
lift (int *fd)
{
  int high = fcntl (*fd, F_DUPFD_CLOEXEC, PAWL_TRIAL_ANSWER_FD + 1);

  close (*fd);
  *fd = high;
  return high >= 0;
}

static int
spawn (const char *helper, int bytes_fd, int answer_fd, int talk_fd, pid_t *pid)
{
  char *argv[] = { (char *) helper, NULL };
  g_auto(GStrv) environment = make_environment ();
  posix_spawn_file_actions_t actions;
  posix_spawnattr_t attributes;
  sigset_t none, all;
  int fault;

  sigemptyset (&none);
  sigfillset (&all);
  posix_spawn_file_actions_init (&actions);
  posix_spawnattr_init (&attributes);
  posix_spawn_file_actions_adddup2 (&actions, bytes_fd, STDIN_FILENO);
  posix_spawn_file_actions_adddup2 (&actions, talk_fd, STDOUT_FILENO);
  posix_spawn_file_actions_adddup2 (&actions, talk_fd, STDERR_FILENO);
  posix_spawn_file_actions_adddup2 (&actions, answer_fd, PAWL_TRIAL_ANSWER_FD);
  posix_spawn_file_actions_addclosefrom_np (&actions, PAWL_TRIAL_ANSWER_FD + 1);
  posix_spawnattr_setflags (&attributes, POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETSIGDEF);
  posix_spawnattr_setsigmask (&attributes, &none);
  posix_spawnattr_setsigdefault (&attributes, &all);
  fault = posix_spawn (pid, helper, &actions, &attributes, argv, environment);
  posix_spawnattr_destroy (&attributes);
  posix_spawn_file_actions_destroy (&actions);
  return fault;
}

/* Returns 0, or an errno. */
static int
start (Run *self, const char *helper, GBytes *bytes, pid_t *pid)
{
  int answer[2] = { -1, -1 }, talk[2] = { -1, -1 }, bytes_fd = make_bytes_fd (bytes);
  int fault = 0;

  if (bytes_fd < 0 || !lift (&bytes_fd) || pipe2 (answer, O_CLOEXEC | O_NONBLOCK) != 0 || pipe2 (talk, O_CLOEXEC | O_NONBLOCK) != 0
      || !lift (&answer[1]) || !lift (&talk[1]))
    fault = errno;
  /* The writing ends block: a helper that is ahead of us waits. */
  if (fault == 0 && (fcntl (answer[1], F_SETFL, 0) != 0 || fcntl (talk[1], F_SETFL, 0) != 0))
    fault = errno;
  if (fault == 0)
    fault = spawn (helper, bytes_fd, answer[1], talk[1], pid);
  for (guint i = 0; i < 3; i++)
    {
      int fd = ((int[]) { bytes_fd, answer[1], talk[1] })[i];

      if (fd >= 0)
        close (fd);
    }
  self->answer_fd = answer[0];
  self->talk_fd = talk[0];
  return fault;
}

/* ---- listening ---- */

/* Takes in some of what is there. At the end, the descriptor is closed. */
static void
take_in (int *fd, GString *text)
{
  char buffer[4096];
  gssize n = read (*fd, buffer, sizeof buffer);

  if (n > 0)
    g_string_append_len (text, buffer, n);
  else if (n == 0 || (errno != EAGAIN && errno != EINTR))
    {
      close (*fd);
      *fd = -1;
    }
}

static gboolean
is_time_up (Run *self, GCancellable *cancellable)
{
  self->is_cancelled = g_cancellable_is_cancelled (cancellable);
  self->is_late = !self->is_cancelled && g_get_monotonic_time () >= self->deadline;
  return self->is_cancelled || self->is_late;
}

static gboolean
talks_of_memory (const char *talk)
{
  /* How the libraries underneath say that they got no memory, before they abort: Rust, GLib, and the sanitizers in test builds. */
  static const char * const words[] = { "memory allocation of", "failed to allocate", "hard rss limit exhausted" };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (strstr (talk, words[i]))
      return TRUE;
  return FALSE;
}

static void
listen_to (Run *self, GCancellable *cancellable)
{
  while ((self->answer_fd >= 0 || self->talk_fd >= 0) && !is_time_up (self, cancellable))
    {
      struct pollfd fds[3] = { { self->answer_fd, POLLIN, 0 }, { self->talk_fd, POLLIN, 0 }, { self->cancel.fd, POLLIN, 0 } };
      gint64 rest = self->deadline - g_get_monotonic_time ();

      poll (fds, G_N_ELEMENTS (fds), (int) CLAMP (rest / 1000 + 1, 0, PAWL_TRIAL_CLOCK_SECONDS * 1000));
      if (fds[0].revents)
        take_in (&self->answer_fd, self->answer);
      if (fds[1].revents)
        take_in (&self->talk_fd, self->talk);
      if (self->answer->len > MAX_ANSWER)
        return;
      if (self->talk->len > MAX_TALK)
        {
          self->lacks_memory = self->lacks_memory || talks_of_memory (self->talk->str);
          g_string_erase (self->talk, 0, (gssize) (self->talk->len - MAX_TALK));
        }
    }
}

/* Ends it if it must be, and takes its status in any case, so that no zombie stays. Returns the status, or -1. */
static int
wait_for (Run *self, pid_t pid, GCancellable *cancellable)
{
  int status = -1;
  pid_t done;

  while (self->answer->len <= MAX_ANSWER && !is_time_up (self, cancellable))
    {
      if ((done = waitpid (pid, &status, WNOHANG)) == pid)
        return status;
      if (done < 0 && errno != EINTR)
        return -1;
      g_usleep (1000); /* its pipes are closed, so it is about to end */
    }
  kill (pid, SIGKILL);
  while ((done = waitpid (pid, &status, 0)) < 0 && errno == EINTR)
    ;
  return done == pid ? status : -1;
}

/* ---- what it comes to ---- */

static PawlTrialFound *
read_end (Run *self, int status, int line)
{
  int number = WIFSIGNALED (status) ? WTERMSIG (status) : 0;

  if (!number || self->answer->len > MAX_ANSWER)
    return pawl_trial_found_new (PAWL_TRIAL_NO_ANSWER, 0, WIFEXITED (status) ? WEXITSTATUS (status) : -1, NULL);
  if (number == SIGXCPU)
    return pawl_trial_found_new (PAWL_TRIAL_COMPUTED, line, 0, NULL);
  if (number == SIGKILL || number == SIGTERM || number == SIGINT || number == SIGHUP || number == SIGQUIT)
    return pawl_trial_found_new (PAWL_TRIAL_KILLED, 0, number, NULL);
  if (self->lacks_memory || talks_of_memory (self->talk->str))
    return pawl_trial_found_new (PAWL_TRIAL_MEMORY, line, 0, NULL);
  return pawl_trial_found_new (PAWL_TRIAL_CRASHED, line, number, NULL);
}

/* The lines so far: where it was, and its verdict if it came to one. A last line that is not whole does not count. */
static PawlTrialFound *
read_answer (Run *self, int *line)
{
  g_auto(GStrv) lines = g_strsplit (self->answer->str, "\n", -1);
  guint n = g_strv_length (lines);

  for (guint i = 0; i + 1 < n; i++)
    if (g_str_has_prefix (lines[i], "at "))
      *line = (int) CLAMP (g_ascii_strtoll (lines[i] + 3, NULL, 10), 0, G_MAXINT);
    else if (g_str_equal (lines[i], "fine"))
      return pawl_trial_found_new (PAWL_TRIAL_FINE, 0, 0, NULL);
    else if (g_str_equal (lines[i], "memory"))
      return pawl_trial_found_new (PAWL_TRIAL_MEMORY, *line, 0, NULL);
    else if (g_str_has_prefix (lines[i], "failed "))
      return pawl_trial_found_new (PAWL_TRIAL_FAILED, *line, 0, lines[i] + 7);
    else
      return NULL;
  return NULL;
}

static PawlTrialFound *
conclude (Run *self, int status)
{
  int line = 0;
  g_autoptr(PawlTrialFound) verdict = read_answer (self, &line);

  if (self->is_late)
    return pawl_trial_found_new (PAWL_TRIAL_LATE, line, 0, NULL);
  if (status != 0 || !verdict)
    return read_end (self, status, line);
  return g_steal_pointer (&verdict);
}

PawlTrialFound *
pawl_trial_run (const char *helper, GBytes *bytes, GCancellable *cancellable)
{
  Run self = { .answer_fd = -1, .talk_fd = -1, .cancel = { .fd = -1 } };
  g_autoptr(GString) answer = g_string_new (NULL), talk = g_string_new (NULL);
  gboolean has_poll = g_cancellable_make_pollfd (cancellable, &self.cancel);
  PawlTrialFound *found;
  int fault, status = -1;
  pid_t pid;

  self.answer = answer;
  self.talk = talk;
  self.deadline = g_get_monotonic_time () + PAWL_TRIAL_CLOCK_SECONDS * G_USEC_PER_SEC;
  if ((fault = start (&self, helper, bytes, &pid)) == 0)
    {
      listen_to (&self, cancellable);
      status = wait_for (&self, pid, cancellable);
    }
  if (self.answer_fd >= 0)
    close (self.answer_fd);
  if (self.talk_fd >= 0)
    close (self.talk_fd);
  if (has_poll)
    g_cancellable_release_fd (cancellable);
  if (self.is_cancelled)
    return NULL;
  found = fault ? pawl_trial_found_new (PAWL_TRIAL_NO_HELPER, 0, 0, g_strerror (fault)) : conclude (&self, status);
  return found;
}

/* ---- what was found ---- */

char *
pawl_trial_clean_words (const char *words, gssize length)
{
  g_autofree char *valid = g_utf8_make_valid (words, length);
  char *end = valid;

  for (; *end && end - valid < 300; end = g_utf8_next_char (end))
    if (g_unichar_iscntrl (g_utf8_get_char (end)))
      memset (end, ' ', (gsize) (g_utf8_next_char (end) - end));
  *end = '\0';
  return g_strdup (g_strstrip (valid));
}

PawlTrialFound *
pawl_trial_found_new (PawlTrialKind kind, int line, int number, const char *words)
{
  PawlTrialFound *self = g_new0 (PawlTrialFound, 1);

  self->kind = kind;
  self->line = line;
  self->number = number;
  self->words = words ? pawl_trial_clean_words (words, -1) : NULL;
  return self;
}

void
pawl_trial_found_free (PawlTrialFound *self)
{
  if (!self)
    return;
  g_free (self->words);
  g_free (self);
}

gboolean
pawl_trial_found_lasts (const PawlTrialFound *self)
{
  return self->kind < PAWL_TRIAL_KILLED;
}
