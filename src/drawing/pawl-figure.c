#include "drawing/pawl-figure.h"

#include <libxml/parser.h>
#include <math.h>
#include <string.h>

#include "drawing/pawl-chunk-artist.h"
#include "drawing/pawl-figure-layers.h"
#include "drawing/pawl-figure-private.h"
#include "drawing/pawl-figure-scan.h"

/* Root-level pieces that a scene is willing to handle one by one. */
#define MAX_HATCH_WORDS 16
#define MAX_CHUNKS 2000

G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlDoc, xmlFreeDoc)
G_DEFINE_QUARK (pawl-figure-error-quark, pawl_figure_error)

struct _PawlFigure {
  GObject parent_instance;

  char       *name;
  char       *digest;
  GBytes     *bytes;
  PawlBox     view_box;
  GPtrArray  *regions;  /* (element-type PawlRegion) */
  GHashTable *by_id;    /* id → PawlRegion, borrowed from regions */
  GPtrArray  *chunks;   /* (element-type PawlChunk) */
  GHashTable *chunk_by_id; /* id → index + 1 */
  GPtrArray  *findings; /* (element-type utf8) */
  GBytes     *text;     /* the file made ready for drawing: a page size of ours, filler in groups of its own */
  PawlArtist *artist;   /* (nullable) made when something is drawn by this object */
};

G_DEFINE_TYPE (PawlFigure, pawl_figure, G_TYPE_OBJECT)

/* ---- boxes ---- */

gboolean
pawl_box_is_empty (PawlBox box)
{
  return !(box.width > 0 && box.height > 0);
}

PawlBox
pawl_box_unite (PawlBox a, PawlBox b)
{
  double x = MIN (a.x, b.x), y = MIN (a.y, b.y);

  if (pawl_box_is_empty (a))
    return b;
  if (pawl_box_is_empty (b))
    return a;
  return (PawlBox) { x, y, MAX (a.x + a.width, b.x + b.width) - x, MAX (a.y + a.height, b.y + b.height) - y };
}

PawlBox
pawl_box_intersect (PawlBox a, PawlBox b)
{
  double x = MAX (a.x, b.x), y = MAX (a.y, b.y);
  double x1 = MIN (a.x + a.width, b.x + b.width), y1 = MIN (a.y + a.height, b.y + b.height);

  return x1 > x && y1 > y ? (PawlBox) { x, y, x1 - x, y1 - y } : (PawlBox) { 0 };
}

/* ---- object ---- */

static void
free_region (gpointer data)
{
  PawlRegion *region = data;

  g_free (region->id);
  g_free (region->within);
  g_free (region->hatch_deg);
  g_free (region);
}

static void
free_chunk (gpointer data)
{
  PawlChunk *chunk = data;

  g_free (chunk->id);
  g_clear_pointer (&chunk->recording, cairo_surface_destroy);
  g_clear_pointer (&chunk->silhouette, g_ptr_array_unref);
  g_free (chunk);
}

static void
pawl_figure_finalize (GObject *object)
{
  PawlFigure *self = PAWL_FIGURE (object);

  g_clear_pointer (&self->artist, pawl_artist_free);
  g_clear_pointer (&self->text, g_bytes_unref);
  g_hash_table_unref (self->by_id);
  g_hash_table_unref (self->chunk_by_id);
  g_ptr_array_unref (self->regions);
  g_ptr_array_unref (self->chunks);
  g_clear_pointer (&self->findings, g_ptr_array_unref);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_free (self->name);
  g_free (self->digest);
  G_OBJECT_CLASS (pawl_figure_parent_class)->finalize (object);
}

static void
pawl_figure_class_init (PawlFigureClass *class)
{
  G_OBJECT_CLASS (class)->finalize = pawl_figure_finalize;
}

static void
pawl_figure_init (PawlFigure *self)
{
  self->regions = g_ptr_array_new_with_free_func (free_region);
  self->by_id = g_hash_table_new (g_str_hash, g_str_equal);
  self->chunks = g_ptr_array_new_with_free_func (free_chunk);
  self->chunk_by_id = g_hash_table_new (g_str_hash, g_str_equal);
}

/* ---- regions and chunks, from the tree ---- */

static gboolean
draws_by_itself (const xmlNode *node)
{
  static const char * const drawn[] = {
    "g", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "image", "use", "svg", "switch", "a", NULL,
  };

  return node->type == XML_ELEMENT_NODE && g_strv_contains (drawn, (const char *) node->name);
}

static gboolean
is_container (const xmlNode *node)
{
  static const char * const containers[] = { "g", "svg", "switch", "a", NULL };

  return g_strv_contains (containers, (const char *) node->name);
}

static char *
dup_id (xmlNode *node)
{
  xmlChar *value = xmlGetNoNsProp (node, (const xmlChar *) "id");
  char *id = value && *value ? g_strdup ((const char *) value) : NULL;

  xmlFree (value);
  return id;
}

/* data-hatch="45 135": degrees, spaces between. One that can't be read is told and counts for nothing. */
static void
read_hatch (PawlFigure *self, xmlNode *node, PawlRegion *region)
{
  xmlChar *value = xmlGetNoNsProp (node, (const xmlChar *) "data-hatch");
  g_auto(GStrv) words = value ? g_strsplit_set ((const char *) value, " \t\r\n", MAX_HATCH_WORDS) : NULL;

  region->hatch_deg = words ? g_new0 (double, g_strv_length (words) + 1) : NULL;
  for (char **word = words; word && *word; word++)
    {
      char *end = NULL;
      double angle_deg = g_ascii_strtod (*word, &end);

      if (!**word)
        continue;
      if (*end || !isfinite (angle_deg))
        {
          g_ptr_array_add (self->findings, g_strdup_printf ("%s:%d: data-hatch \"%s\" of \"%s\" is no list of angles; it is degrees with spaces between, as \"45 135\"",
                                                            self->name, region->line, (const char *) value, region->id));
          region->n_hatch = 0;
          break;
        }
      region->hatch_deg[region->n_hatch++] = angle_deg;
    }
  xmlFree (value);
}

/* FALSE when the id is taken: the second one can't be told from the first, so it is drawn but is no region. */
static gboolean
add_region (PawlFigure *self, xmlNode *node, const char *id, guint depth, const char *within)
{
  PawlRegion *region;
  const PawlRegion *first = g_hash_table_lookup (self->by_id, id);
  int line = (int) xmlGetLineNo (node);

  if (first)
    {
      g_ptr_array_add (self->findings, g_strdup_printf ("%s:%d: id \"%s\" is taken by line %d; this one can't be pointed at", self->name, line, id, first->line));
      return FALSE;
    }
  region = g_new0 (PawlRegion, 1);
  region->id = g_strdup (id);
  region->line = line;
  region->order = self->regions->len;
  region->depth = depth;
  region->within = g_strdup (within);
  read_hatch (self, node, region);
  g_ptr_array_add (self->regions, region);
  g_hash_table_insert (self->by_id, region->id, region);
  return TRUE;
}

static void
add_inner_regions (PawlFigure *self, xmlNode *parent, guint depth, const char *within)
{
  for (xmlNode *node = parent->children; node; node = node->next)
    if (draws_by_itself (node))
      {
        g_autofree char *id = dup_id (node);

        if (id)
          add_region (self, node, id, depth, within);
        if (is_container (node))
          add_inner_regions (self, node, depth + 1, within);
      }
}

static void
add_chunk (PawlFigure *self, const char *id, gboolean is_region, int line)
{
  PawlChunk *chunk = g_new0 (PawlChunk, 1);

  chunk->id = g_strdup (id);
  chunk->is_region = is_region;
  chunk->line = line;
  g_ptr_array_add (self->chunks, chunk);
  g_hash_table_insert (self->chunk_by_id, chunk->id, GUINT_TO_POINTER (self->chunks->len));
}

/* A run of art without ids gets a group round it, so that it can be drawn by a name as well. */
static xmlNode *
open_filler (PawlFigure *self, xmlNode *before)
{
  g_autofree char *id = g_strdup_printf (PAWL_FILLER_PREFIX "%u", self->chunks->len);
  xmlNode *group = xmlNewNode (before->ns, (const xmlChar *) "g");

  xmlSetProp (group, (const xmlChar *) "id", (const xmlChar *) id);
  xmlAddPrevSibling (before, group);
  add_chunk (self, id, FALSE, (int) xmlGetLineNo (before));
  return group;
}

static gboolean
split_root (PawlFigure *self, xmlNode *root, GError **error)
{
  xmlNode *filler = NULL, *next;

  for (xmlNode *node = root->children; node; node = next)
    {
      g_autofree char *id = NULL;

      next = node->next;
      if (!draws_by_itself (node))
        continue;
      id = dup_id (node);
      if (id && add_region (self, node, id, 1, NULL))
        {
          filler = NULL;
          add_chunk (self, id, TRUE, (int) xmlGetLineNo (node));
          if (is_container (node))
            add_inner_regions (self, node, 2, id);
        }
      else
        {
          filler = filler ? filler : open_filler (self, node);
          xmlUnlinkNode (node);
          xmlAddChild (filler, node);
          if (is_container (node))
            add_inner_regions (self, node, 2, NULL);
        }
      if (self->chunks->len > MAX_CHUNKS)
        {
          g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_TOO_LARGE, "%s:%d: over %d root-level elements; put them into one group for each part", self->name,
                       (int) xmlGetLineNo (node), MAX_CHUNKS);
          return FALSE;
        }
    }
  return TRUE;
}

static void
set_sheet (PawlFigure *self, xmlNode *root, gboolean has_view_box)
{
  char numbers[4][G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *box = NULL;

  g_ascii_dtostr (numbers[0], G_ASCII_DTOSTR_BUF_SIZE, self->view_box.x);
  g_ascii_dtostr (numbers[1], G_ASCII_DTOSTR_BUF_SIZE, self->view_box.y);
  g_ascii_dtostr (numbers[2], G_ASCII_DTOSTR_BUF_SIZE, self->view_box.width);
  g_ascii_dtostr (numbers[3], G_ASCII_DTOSTR_BUF_SIZE, self->view_box.height);
  box = g_strdup_printf ("%s %s %s %s", numbers[0], numbers[1], numbers[2], numbers[3]);
  if (!has_view_box)
    xmlSetProp (root, (const xmlChar *) "viewBox", (const xmlChar *) box);
  /* The sheet is as large as whoever draws it says, never as the file claims. */
  xmlSetProp (root, (const xmlChar *) "width", (const xmlChar *) numbers[2]);
  xmlSetProp (root, (const xmlChar *) "height", (const xmlChar *) numbers[3]);
  /* They mean nothing on a root, but do where the figure is a picture within a sheet; see pawl_artist_draw_within(). */
  xmlUnsetProp (root, (const xmlChar *) "x");
  xmlUnsetProp (root, (const xmlChar *) "y");
}

/* Every chunk is an element of its own by now. */
static void
note_layers (PawlFigure *self, xmlNode *root)
{
  PawlLayers layers = pawl_figure_layers_find (root);

  for (xmlNode *node = root->children; node && layers != PAWL_LAYERS_NONE; node = node->next)
    if (draws_by_itself (node))
      {
        g_autofree char *id = dup_id (node);
        guint index = id ? GPOINTER_TO_UINT (g_hash_table_lookup (self->chunk_by_id, id)) : 0;

        if (index)
          ((PawlChunk *) g_ptr_array_index (self->chunks, index - 1))->has_layers = pawl_figure_layers_need (node, layers);
      }
}

static void
keep_text (PawlFigure *self, xmlDoc *document)
{
  xmlChar *text = NULL;
  int length = 0;

  xmlDocDumpMemoryEnc (document, &text, &length, "UTF-8");
  self->text = g_bytes_new (text, length);
  xmlFree (text);
}

static gboolean
build (PawlFigure *self, gboolean has_view_box, GError **error)
{
  gsize length;
  const char *text = g_bytes_get_data (self->bytes, &length);
  g_autoptr(xmlDoc) document = xmlReadMemory (text, (int) length, NULL, NULL, XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING);
  xmlNode *root = document ? xmlDocGetRootElement (document) : NULL;

  if (!root)
    {
      g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_NOT_XML, "%s:1: not well-formed XML", self->name);
      return FALSE;
    }
  set_sheet (self, root, has_view_box);
  if (!split_root (self, root, error))
    return FALSE;
  note_layers (self, root);
  keep_text (self, document);
  return TRUE;
}

/* ---- loading ---- */

PawlFigure *
pawl_figure_new_scanned (GBytes *bytes, const char *name, PawlFigureScan *scan, GError **error)
{
  g_autoptr(PawlFigure) self = g_object_new (PAWL_TYPE_FIGURE, NULL);

  self->name = g_strdup (name);
  self->bytes = g_bytes_ref (bytes);
  self->digest = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  self->view_box = scan->view_box;
  self->findings = g_steal_pointer (&scan->findings);
  return build (self, scan->has_view_box, error) ? g_steal_pointer (&self) : NULL;
}

PawlFigure *
pawl_figure_load_bytes (GBytes *bytes, const char *name, GError **error)
{
  PawlFigureScan scan = { 0 };

  g_return_val_if_fail (bytes != NULL && name != NULL, NULL);
  return pawl_figure_scan (bytes, name, &scan, error) ? pawl_figure_new_scanned (bytes, name, &scan, error) : NULL;
}

GBytes *
pawl_figure_read_file (const char *path, GError **error)
{
  g_autoptr(GFile) file = NULL;
  g_autoptr(GFileInputStream) stream = NULL;
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(GError) fault = NULL;
  g_autofree char *name = NULL;

  g_return_val_if_fail (path != NULL, NULL);
  name = g_path_get_basename (path);
  file = g_file_new_for_path (path);
  /* One byte over the cap is enough to know: a file is never read whole first. */
  if ((stream = g_file_read (file, NULL, &fault)))
    {
      g_autofree char *data = g_malloc (PAWL_FIGURE_MAX_BYTES + 1);
      gsize length = 0;

      if (g_input_stream_read_all (G_INPUT_STREAM (stream), data, PAWL_FIGURE_MAX_BYTES + 1, &length, NULL, &fault))
        bytes = g_bytes_new (data, length);
    }
  if (bytes)
    return g_steal_pointer (&bytes);
  if (g_error_matches (fault, G_IO_ERROR, G_IO_ERROR_NOT_FOUND))
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_IO, "%s: there is no such file; put the figure there, or name another", name);
  else
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_IO, "%s: can't be read: %s", name, fault->message);
  return NULL;
}

PawlFigure *
pawl_figure_load (const char *path, GError **error)
{
  g_autoptr(GBytes) bytes = pawl_figure_read_file (path, error);
  g_autofree char *name = bytes ? g_path_get_basename (path) : NULL;

  return bytes ? pawl_figure_load_bytes (bytes, name, error) : NULL;
}

const char *
pawl_figure_get_name (PawlFigure *self)
{
  g_return_val_if_fail (PAWL_IS_FIGURE (self), NULL);
  return self->name;
}

const char *
pawl_figure_get_digest (PawlFigure *self)
{
  g_return_val_if_fail (PAWL_IS_FIGURE (self), NULL);
  return self->digest;
}

GBytes *
pawl_figure_peek_bytes (PawlFigure *self)
{
  g_return_val_if_fail (PAWL_IS_FIGURE (self), NULL);
  return self->bytes;
}

PawlBox
pawl_figure_get_view_box (PawlFigure *self)
{
  g_return_val_if_fail (PAWL_IS_FIGURE (self), (PawlBox) { 0 });
  return self->view_box;
}

GPtrArray *
pawl_figure_get_regions (PawlFigure *self)
{
  g_return_val_if_fail (PAWL_IS_FIGURE (self), NULL);
  return self->regions;
}

const PawlRegion *
pawl_figure_lookup_region (PawlFigure *self, const char *id)
{
  g_return_val_if_fail (PAWL_IS_FIGURE (self) && id != NULL, NULL);
  return g_hash_table_lookup (self->by_id, id);
}

GPtrArray *
pawl_figure_list_part_regions (PawlFigure *self)
{
  GPtrArray *list;

  g_return_val_if_fail (PAWL_IS_FIGURE (self), NULL);
  list = g_ptr_array_new ();
  for (guint i = 0; i < self->regions->len; i++)
    {
      PawlRegion *region = g_ptr_array_index (self->regions, i);

      if (region->depth == 1 && !pawl_figure_is_guide_id (region->id))
        g_ptr_array_add (list, region);
    }
  return list;
}

GPtrArray *
pawl_figure_get_findings (PawlFigure *self)
{
  g_return_val_if_fail (PAWL_IS_FIGURE (self), NULL);
  return self->findings;
}

/* ---- what is drawn ---- */

static void
add_finding (PawlFigure *self, const char *id, const GError *error)
{
  const PawlRegion *region = g_hash_table_lookup (self->by_id, id);
  g_autofree char *finding = g_strdup_printf ("%s:%d: \"%s\" can't be drawn: %s", self->name, region ? region->line : 1, id, error->message);

  if (!g_ptr_array_find_with_equal_func (self->findings, finding, g_str_equal, NULL))
    g_ptr_array_add (self->findings, g_steal_pointer (&finding));
}

/* (nullable): what the scan let through, the drawing library fails to read only for want of memory. Opening takes as long as all the rest, and a
 * figure whose chunks are kept on disk is shown without it. */
static PawlArtist *
get_artist (PawlFigure *self)
{
  g_autoptr(GError) error = NULL;

  if (!self->artist && !(self->artist = pawl_artist_new (self->text, self->name, self->view_box, &error)))
    g_ptr_array_add (self->findings, g_strdup (error->message));
  return self->artist;
}

static void
draw_element (PawlFigure *self, const char *id, cairo_t *cr)
{
  g_autoptr(GError) error = NULL;

  if (get_artist (self) && !pawl_artist_draw (self->artist, id, cr, &error))
    add_finding (self, id, error);
}

static cairo_surface_t *
record_element (PawlFigure *self, const char *id)
{
  cairo_surface_t *recording = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  g_autoptr(cairo_t) cr = cairo_create (recording);

  draw_element (self, id, cr);
  return recording;
}

PawlArtist *
pawl_figure_steal_artist (PawlFigure *self)
{
  return g_steal_pointer (&self->artist);
}

GBytes *
pawl_figure_peek_text (PawlFigure *self)
{
  return self->text;
}

guint
pawl_figure_get_n_chunks (PawlFigure *self)
{
  return self->chunks->len;
}

const PawlChunk *
pawl_figure_get_chunk (PawlFigure *self, guint n)
{
  return g_ptr_array_index (self->chunks, n);
}

const PawlChunk *
pawl_figure_lookup_chunk (PawlFigure *self, const char *id, guint *n)
{
  guint index = GPOINTER_TO_UINT (g_hash_table_lookup (self->chunk_by_id, id));
  const PawlChunk *chunk = index ? g_ptr_array_index (self->chunks, index - 1) : NULL;

  if (!chunk || !chunk->is_region)
    return NULL;
  if (n)
    *n = index - 1;
  return chunk;
}

cairo_surface_t *
pawl_figure_peek_recording (PawlFigure *self, guint n)
{
  PawlChunk *chunk = g_ptr_array_index (self->chunks, n);

  if (!chunk->recording)
    chunk->recording = record_element (self, chunk->id);
  return chunk->recording;
}

void
pawl_figure_set_chunk_extents (PawlFigure *self, guint n, PawlBox extents)
{
  PawlChunk *chunk = g_ptr_array_index (self->chunks, n);

  chunk->extents = extents;
  chunk->is_measured = TRUE;
}

void
pawl_figure_take_silhouette (PawlFigure *self, guint n, GPtrArray *silhouette)
{
  PawlChunk *chunk = g_ptr_array_index (self->chunks, n);

  g_clear_pointer (&chunk->silhouette, g_ptr_array_unref);
  chunk->silhouette = silhouette;
}

void
pawl_figure_draw_chunk (PawlFigure *self, guint n, cairo_t *cr, double alpha)
{
  const PawlChunk *chunk = g_ptr_array_index (self->chunks, n);

  if (alpha >= 1)
    {
      draw_element (self, chunk->id, cr);
      return;
    }
  cairo_push_group (cr);
  draw_element (self, chunk->id, cr);
  cairo_pop_group_to_source (cr);
  cairo_paint_with_alpha (cr, alpha);
}

PawlBox
pawl_figure_get_chunk_extents (PawlFigure *self, guint n)
{
  PawlChunk *chunk = g_ptr_array_index (self->chunks, n);

  if (!chunk->is_measured)
    pawl_figure_set_chunk_extents (self, n, pawl_recording_measure (pawl_figure_peek_recording (self, n), self->view_box));
  return chunk->extents;
}

PawlBox
pawl_figure_get_extents (PawlFigure *self, const char *id)
{
  g_autoptr(cairo_surface_t) recording = NULL;
  guint n;

  g_return_val_if_fail (PAWL_IS_FIGURE (self) && id != NULL, (PawlBox) { 0 });
  if (pawl_figure_lookup_chunk (self, id, &n))
    return pawl_figure_get_chunk_extents (self, n);
  if (!g_hash_table_contains (self->by_id, id))
    return (PawlBox) { 0 };
  recording = record_element (self, id);
  return pawl_recording_measure (recording, self->view_box);
}

GPtrArray *
pawl_figure_peek_silhouette (PawlFigure *self, guint n)
{
  PawlChunk *chunk = g_ptr_array_index (self->chunks, n);

  if (!chunk->silhouette)
    chunk->silhouette = pawl_recording_trace (pawl_figure_peek_recording (self, n), pawl_figure_get_chunk_extents (self, n));
  return chunk->silhouette;
}

gboolean
pawl_figure_is_guide_id (const char *id)
{
  return g_str_equal (id, "axes") || g_str_has_prefix (id, PAWL_GUIDE_PREFIX);
}
