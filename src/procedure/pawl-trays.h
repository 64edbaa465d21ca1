/*
 * Trays: where each part that comes off lies until it goes back. Worked out from the procedure, so that a place is the same on the screen, on
 * paper and in every job of the same variant.
 *
 * A tray has PAWL_TRAY_PLACES numbered places, four in a row. Each sub-assembly has trays of its own, in the order in which its first part comes
 * off; in a tray parts lie in the order of removal, all pieces of an item in one place. Parts that look alike (pawl-alike.h) never lie in places
 * that touch, not even by a corner: the next part that may goes in between. What is spoilt by removal or replaced from the kit goes to the old parts.
 */
#pragma once

#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

#define PAWL_TRAY_COLUMNS 4
#define PAWL_TRAY_ROWS 3
#define PAWL_TRAY_PLACES (PAWL_TRAY_COLUMNS * PAWL_TRAY_ROWS)

typedef struct {
  const PawlPart *part;
  const PawlStep *removal; /* (nullable): that takes it off for the first time; NULL when no step does, and the mirror of assembly says the order */
  guint           tray;    /* from 1; 0: with the old parts, not to be fitted again */
  guint           place;   /* from 1 */
} PawlTrayPlace;

typedef struct _PawlTrays PawlTrays;

/* (transfer full). @variant: "" for none. Lends what @procedure owns: holds a reference to it. */
PawlTrays  *pawl_trays_new         (PawlProcedure *procedure, const char *variant);
void        pawl_trays_free        (PawlTrays *self);
GPtrArray  *pawl_trays_get_places  (const PawlTrays *self); /* (element-type PawlTrayPlace): order of removal */
const PawlTrayPlace *pawl_trays_lookup (const PawlTrays *self, const char *part_id); /* (nullable): it never comes off */
guint       pawl_trays_count       (const PawlTrays *self);
const char *pawl_trays_get_group   (const PawlTrays *self, guint tray); /* the sub-assembly that the tray is of; "" for the unit itself */
/* (transfer full): "tray 2, place 5", "old parts" */
char       *pawl_tray_place_describe (const PawlTrayPlace *place);
/* Whether two places of one tray touch, by an edge or a corner. */
gboolean    pawl_tray_places_touch (guint a, guint b);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlTrays, pawl_trays_free)

G_END_DECLS
