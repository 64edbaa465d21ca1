#include "procedure/pawl-trays.h"

#include "procedure/pawl-alike.h"
#include "procedure/pawl-kit.h"
#include "procedure/pawl-mirror.h"

typedef struct {
  char            *group;
  const PawlPart  *parts[PAWL_TRAY_PLACES]; /* by place; NULL: free */
} Tray;

struct _PawlTrays {
  PawlProcedure *procedure;
  char          *variant;
  GPtrArray     *places;  /* (element-type PawlTrayPlace) */
  GHashTable    *by_part; /* borrowed keys and values */
  GPtrArray     *trays;   /* (element-type Tray) */
};

static void
tray_free (Tray *self)
{
  g_free (self->group);
  g_free (self);
}

gboolean
pawl_tray_places_touch (guint a, guint b)
{
  int column = (int) ((a - 1) % PAWL_TRAY_COLUMNS) - (int) ((b - 1) % PAWL_TRAY_COLUMNS);
  int row = (int) ((a - 1) / PAWL_TRAY_COLUMNS) - (int) ((b - 1) / PAWL_TRAY_COLUMNS);

  return a != b && ABS (column) <= 1 && ABS (row) <= 1;
}

/* ---- placing ---- */

static gboolean
is_beside_alike (const Tray *tray, guint place, GPtrArray *alikes)
{
  for (guint i = 1; i <= PAWL_TRAY_PLACES; i++)
    if (tray->parts[i - 1] != NULL && pawl_tray_places_touch (i, place) && pawl_alike_list_has (alikes, tray->parts[i - 1]->id))
      return TRUE;
  return FALSE;
}

/* 0: there is none. */
static guint
find_place (const Tray *tray, GPtrArray *alikes)
{
  for (guint place = 1; place <= PAWL_TRAY_PLACES; place++)
    if (tray->parts[place - 1] == NULL && !is_beside_alike (tray, place, alikes))
      return place;
  return 0;
}

static void
put_in_tray (PawlTrays *self, PawlTrayPlace *place, const char *group)
{
  g_autoptr(GPtrArray) alikes = pawl_alike_list (self->procedure, self->variant, place->part->id);
  Tray *tray;

  for (guint i = 0; i < self->trays->len; i++)
    {
      tray = self->trays->pdata[i];
      if (!g_str_equal (tray->group, group) || (place->place = find_place (tray, alikes)) == 0)
        continue;
      place->tray = i + 1;
      tray->parts[place->place - 1] = place->part;
      return;
    }
  tray = g_new0 (Tray, 1);
  tray->group = g_strdup (group);
  tray->parts[0] = place->part;
  g_ptr_array_add (self->trays, tray);
  place->tray = self->trays->len;
  place->place = 1;
}

/* @is_fitted_before: it is on the unit by a step of this procedure, so that what comes off is new. */
static void
add_part (PawlTrays *self, const PawlPart *part, const PawlStep *removal, const char *lane, gboolean is_fitted_before)
{
  PawlTrayPlace *place;

  if (g_hash_table_contains (self->by_part, part->id))
    return;
  place = g_new0 (PawlTrayPlace, 1);
  place->part = part;
  place->removal = removal;
  if (is_fitted_before || (!part->is_kit && !part->is_one_way))
    put_in_tray (self, place, *part->group != '\0' ? part->group : lane);
  g_ptr_array_add (self->places, place);
  g_hash_table_insert (self->by_part, part->id, place);
}

/* ---- order of removal ---- */

static gboolean
add_removed (PawlTrays *self)
{
  GPtrArray *steps = pawl_procedure_get_steps (self->procedure);
  g_autoptr(GHashTable) fitted = g_hash_table_new (g_str_hash, g_str_equal);
  gboolean is_any = FALSE;

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = steps->pdata[i];

      if (!pawl_variant_matches (step->variant, self->variant))
        continue;
      for (char **id = step->removes; *id != NULL; id++)
        {
          const PawlPart *part = pawl_procedure_lookup_part (self->procedure, *id);

          is_any = TRUE;
          if (part != NULL)
            add_part (self, part, step, step->lane, g_hash_table_contains (fitted, part->id));
        }
      for (char **id = step->installs; *id != NULL; id++)
        g_hash_table_add (fitted, *id);
    }
  return is_any;
}

static void
add_mirrored (PawlTrays *self)
{
  g_autoptr(GPtrArray) mirror = pawl_mirror_list (self->procedure, self->variant);

  for (guint i = 0; i < mirror->len; i++)
    {
      const PawlMirrorStep *step = mirror->pdata[i];

      for (guint j = 0; j < step->parts->len; j++)
        add_part (self, step->parts->pdata[j], NULL, step->step->lane, FALSE);
    }
}

PawlTrays *
pawl_trays_new (PawlProcedure *procedure, const char *variant)
{
  PawlTrays *self = g_new0 (PawlTrays, 1);

  self->procedure = g_object_ref (procedure);
  self->variant = g_strdup (variant != NULL ? variant : "");
  self->places = g_ptr_array_new_with_free_func (g_free);
  self->by_part = g_hash_table_new (g_str_hash, g_str_equal);
  self->trays = g_ptr_array_new_with_free_func ((GDestroyNotify) tray_free);
  if (!add_removed (self))
    add_mirrored (self);
  return self;
}

void
pawl_trays_free (PawlTrays *self)
{
  g_ptr_array_unref (self->trays);
  g_hash_table_unref (self->by_part);
  g_ptr_array_unref (self->places);
  g_free (self->variant);
  g_object_unref (self->procedure);
  g_free (self);
}

/* ---- questions ---- */

GPtrArray *
pawl_trays_get_places (const PawlTrays *self)
{
  return self->places;
}

const PawlTrayPlace *
pawl_trays_lookup (const PawlTrays *self, const char *part_id)
{
  return g_hash_table_lookup (self->by_part, part_id);
}

guint
pawl_trays_count (const PawlTrays *self)
{
  return self->trays->len;
}

const char *
pawl_trays_get_group (const PawlTrays *self, guint tray)
{
  g_return_val_if_fail (tray >= 1 && tray <= self->trays->len, "");
  return ((Tray *) self->trays->pdata[tray - 1])->group;
}

char *
pawl_tray_place_describe (const PawlTrayPlace *place)
{
  return place->tray > 0 ? g_strdup_printf ("tray %u, place %u", place->tray, place->place) : g_strdup ("old parts");
}
