/* Figures made to do harm, or to break what reads them. Made by code, the same each time; none is taken from anywhere. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* What the whole way in (scan, trial, opening) must come to. */
typedef enum {
  HOSTILE_LET_IN,       /* harmless after all, and drawn */
  HOSTILE_NOT_XML,      /* codes of PAWL_FIGURE_ERROR, from the scan */
  HOSTILE_NOT_SVG,
  HOSTILE_SIZE,
  HOSTILE_TOO_LARGE,
  HOSTILE_REFUSED,
  HOSTILE_CRASHED,      /* codes of PAWL_TRIAL_ERROR: no scan foretells it */
  HOSTILE_TOO_LONG,
  HOSTILE_MEMORY,
  HOSTILE_FAILED,
} HostileEnd;

typedef struct {
  const char *name;
  HostileEnd  end;
  void      (*make) (GString *text, const char *extra);
  const char *extra;    /* (nullable): for makers that serve several */
} HostileFile;

extern const HostileFile hostile_files[];
extern const guint       n_hostile_files;

GBytes *hostile_make (const HostileFile *file);
/* The file of that name, which must be there. */
const HostileFile *hostile_find (const char *name);

G_END_DECLS
