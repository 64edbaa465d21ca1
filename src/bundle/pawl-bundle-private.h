/* What writing and reading a bundle share. */
#pragma once

#include <archive.h>
#include <archive_entry.h>

#include "bundle/pawl-bundle.h"

G_BEGIN_DECLS

#define PAWL_BUNDLE_WHAT     "Pawl bundle"
#define PAWL_BUNDLE_WHAT_NAMELESS "Pawl jobs without names"
#define PAWL_BUNDLE_MANIFEST "manifest.json"
#define PAWL_BUNDLE_SEAL     "manifest.sha256"
#define PAWL_BUNDLE_README   "README.txt"

/*
 * What nobody needs and a hostile file may ask for. Photos hardly shrink and entries shrink to a twentieth, so something that grows more
 * than a hundredfold was made to.
 */
#define PAWL_BUNDLE_MAX_MEMBERS  200000
#define PAWL_BUNDLE_MAX_MEMBER   (256 * 1024 * 1024)       /* bytes */
#define PAWL_BUNDLE_MAX_MANIFEST (64 * 1024 * 1024)        /* bytes */
#define PAWL_BUNDLE_MAX_GROWTH   100                       /* times the size of the file, … */
#define PAWL_BUNDLE_FREE_GROWTH  ((guint64) 64 * 1024 * 1024) /* … from this size on */

typedef enum { PAWL_MEMBER_README, PAWL_MEMBER_KEPT, PAWL_MEMBER_ENTRIES } PawlMemberKind;

typedef struct {
  PawlMemberKind kind;
  char          *name;
  char          *id;         /* digest of kept bytes, id of a job; "" of the README */
  guint64        size;       /* bytes */
  char          *sha256;
  char          *media_type; /* of kept bytes */
  guint          n_entries;  /* of a job */
  char          *ends;       /* of a job: pawl_record_dup_ends(); "" without names */
  GBytes        *content;    /* (nullable): where it is no record's, while it is written */
} PawlMember;

PawlMember *pawl_member_new          (PawlMemberKind kind, const char *id);
/* (nullable): what may be in a bundle, and nothing else. */
PawlMember *pawl_member_new_from_name (const char *name);
void        pawl_member_free         (PawlMember *self);

/* @members: (element-type PawlMember). @what: PAWL_BUNDLE_WHAT or PAWL_BUNDLE_WHAT_NAMELESS */
char       *pawl_manifest_to_text    (GPtrArray *members, const char *what);
/* PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, also where it is the other of the two, _NEWER, _DAMAGED or _TOO_LARGE, with no path in the message. */
GPtrArray  *pawl_manifest_parse      (const char *text, gsize length, const char *what, GError **error);
char       *pawl_manifest_dup_seal   (const char *text, gsize length);

/* A job's rows as lines of JSON, and back. */
GBytes     *pawl_lines_from_rows     (GPtrArray *rows, GError **error);
GPtrArray  *pawl_lines_to_rows       (GBytes *lines, GError **error);

/* (transfer full): libarchive's latest error, which may end its line, as part of a sentence. */
char       *pawl_bundle_dup_reason   (struct archive *archive);
const char *pawl_bundle_peek_readme  (void);
const char *pawl_bundle_peek_nameless_readme (void);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlMember, pawl_member_free)

G_END_DECLS
