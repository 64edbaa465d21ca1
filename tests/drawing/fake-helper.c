/* Stands in for the helper and does what the figure says in one word: so that each end a helper can come to is seen, none by chance. */
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void
answer (const char *line)
{
  if (write (3, line, strlen (line)) < 0)
    _exit (9);
}

/* As the kernel has it, whatever a sanitizer would make of the signal. */
static void
die (int number)
{
  signal (number, SIG_DFL);
  raise (number);
}

int
main (void)
{
  char word[64] = "";

  if (read (STDIN_FILENO, word, sizeof word - 1) <= 0)
    return 9;
  if (strcmp (word, "fine") == 0)
    answer ("at 3\nfine\n");
  else if (strcmp (word, "failed") == 0)
    answer ("at 7\nfailed the ink ran out\n");
  else if (strcmp (word, "crash") == 0)
    {
      answer ("at 12\n");
      die (SIGSEGV);
    }
  else if (strcmp (word, "crash-after") == 0)
    {
      answer ("fine\n");
      die (SIGSEGV);
    }
  else if (strcmp (word, "memory") == 0)
    {
      answer ("at 5\n");
      fputs ("memory allocation of 99 bytes failed\n", stderr);
      die (SIGABRT);
    }
  else if (strcmp (word, "abort") == 0)
    die (SIGABRT);
  else if (strcmp (word, "killed") == 0)
    die (SIGKILL);
  else if (strcmp (word, "computed") == 0)
    die (SIGXCPU);
  else if (strcmp (word, "sleep") == 0)
    {
      answer ("at 4\n");
      sleep (600);
    }
  else if (strcmp (word, "sleep-deaf") == 0)
    {
      close (3);
      close (STDOUT_FILENO);
      close (STDERR_FILENO);
      sleep (600);
    }
  else if (strcmp (word, "nonsense") == 0)
    answer ("ready when you are\nfine\n");
  else if (strcmp (word, "half") == 0)
    answer ("fine");
  else if (strcmp (word, "status") == 0)
    {
      answer ("fine\n");
      return 6;
    }
  else if (strcmp (word, "flood") == 0)
    for (;;)
      answer ("at 1\nat 2\nat 3\nat 4\n");
  else if (strcmp (word, "talk") == 0)
    {
      for (int i = 0; i < 20000; i++)
        fputs ("words and more words\n", stderr);
      answer ("fine\n");
    }
  else if (strcmp (word, "count") == 0)
    {
      char path[4096];
      FILE *file;

      snprintf (path, sizeof path, "%s/starts", getenv ("XDG_CACHE_HOME"));
      if (!(file = fopen (path, "a")) || fputc ('x', file) == EOF || fclose (file) != 0)
        return 9;
      answer ("fine\n");
    }
  return 0;
}
