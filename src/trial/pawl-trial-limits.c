#include "trial/pawl-trial-limits.h"

#include <signal.h>
#include <sys/prctl.h>
#include <sys/resource.h>

#include "drawing/pawl-trial-private.h"

#define MIB ((rlim_t) 1024 * 1024)

/* Under AddressSanitizer the address space is mostly shadow memory, terabytes of it, which the kernel's limits on memory count. There the
 * sanitizer's own limits stand in for them: one allocation, and memory in use all told, twice as much because of red zones and quarantine. */
#if defined (__SANITIZE_ADDRESS__)
#define LIMITS_MEMORY 0
const char *__asan_default_options (void);

const char *
__asan_default_options (void)
{
  /* Signals are left to kill, as they do outside of tests; the process that waits tells a crash by them. */
  return "max_allocation_size_mb=512:allocator_may_return_null=1:hard_rss_limit_mb=1024:handle_segv=0:handle_sigbus=0:handle_abort=0:detect_leaks=0";
}
#else
#define LIMITS_MEMORY 1
#endif

static gboolean
set_limit (__rlimit_resource_t resource, rlim_t soft, rlim_t hard)
{
  struct rlimit limit;

  if (getrlimit (resource, &limit) != 0)
    return FALSE;
  /* Somebody may have set a lower one already. */
  limit.rlim_cur = MIN (soft, limit.rlim_max);
  limit.rlim_max = MIN (hard, limit.rlim_max);
  return setrlimit (resource, &limit) == 0;
}

gboolean
pawl_trial_limit_self (void)
{
  if (LIMITS_MEMORY && !(set_limit (RLIMIT_DATA, PAWL_TRIAL_MEMORY_MIB * MIB, PAWL_TRIAL_MEMORY_MIB * MIB)
                         && set_limit (RLIMIT_AS, PAWL_TRIAL_ADDRESSES_MIB * MIB, PAWL_TRIAL_ADDRESSES_MIB * MIB)))
    return FALSE;
  /* Over FSIZE a write fails instead of killing: fontconfig may want to write its cache, and does without. */
  signal (SIGXFSZ, SIG_IGN);
  return set_limit (RLIMIT_CPU, PAWL_TRIAL_CPU_SECONDS, PAWL_TRIAL_CPU_SECONDS + 1) && set_limit (RLIMIT_FSIZE, 0, 0) && set_limit (RLIMIT_CORE, 0, 0)
         && set_limit (RLIMIT_NOFILE, PAWL_TRIAL_FILES, PAWL_TRIAL_FILES) && prctl (PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0
         && prctl (PR_SET_PDEATHSIG, SIGKILL) == 0;
}
