#include "drawing/pawl-figure-links.h"

#include "drawing/pawl-figure-scan.h"

#define NONE G_MAXUINT

typedef enum { NOT_YET, UNDER_WAY, DONE } Progress;

typedef struct {
  const char *element; /* interned */
  int         line;
  guint       first_child, next_sibling, last_child;
  guint       first_link;
  Progress    progress;
  double      weight;  /* of its own: 1 is a plain shape */
  double      n_drawn; /* the same with all that is drawn for this one */
  double      n_shapes, n_corners; /* of its own and of those inside it, which inherit its fill and its markers */
  guint       chain;   /* longest chain of links from here */
} Node;

typedef struct {
  char        *target;
  PawlLinkKind kind;
  guint        next;
} Link;

struct _PawlLinks {
  GArray     *nodes;    /* (element-type Node) */
  GArray     *links;    /* (element-type Link) */
  GArray     *open;     /* (element-type guint) */
  GHashTable *by_id;    /* utf8 → node + 1 */
  GPtrArray  *for_all;  /* (element-type utf8) */
};

static void
clear_link (gpointer data)
{
  g_free (((Link *) data)->target);
}

PawlLinks *
pawl_links_new (void)
{
  PawlLinks *self = g_new0 (PawlLinks, 1);

  self->nodes = g_array_new (FALSE, FALSE, sizeof (Node));
  self->links = g_array_new (FALSE, FALSE, sizeof (Link));
  g_array_set_clear_func (self->links, clear_link);
  self->open = g_array_new (FALSE, FALSE, sizeof (guint));
  self->by_id = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->for_all = g_ptr_array_new_with_free_func (g_free);
  return self;
}

void
pawl_links_free (PawlLinks *self)
{
  if (!self)
    return;
  g_array_unref (self->nodes);
  g_array_unref (self->links);
  g_array_unref (self->open);
  g_hash_table_unref (self->by_id);
  g_ptr_array_unref (self->for_all);
  g_free (self);
}

static Node *
get_node (PawlLinks *self, guint n)
{
  return &g_array_index (self->nodes, Node, n);
}

static Node *
get_open (PawlLinks *self)
{
  return self->open->len ? get_node (self, g_array_index (self->open, guint, self->open->len - 1)) : NULL;
}

void
pawl_links_open (PawlLinks *self, const char *element, const char *id, int line)
{
  Node node = { g_intern_string (element), line, NONE, NONE, NONE, NONE, NOT_YET, .weight = 1, .n_shapes = 1 };
  guint n = self->nodes->len;
  Node *parent;

  g_array_append_val (self->nodes, node);
  if ((parent = get_open (self)))
    {
      if (parent->last_child == NONE)
        parent->first_child = n;
      else
        get_node (self, parent->last_child)->next_sibling = n;
      parent->last_child = n;
    }
  g_array_append_val (self->open, n);
  if (id && !g_hash_table_contains (self->by_id, id))
    g_hash_table_insert (self->by_id, g_strdup (id), GUINT_TO_POINTER (n + 1));
}

void
pawl_links_close (PawlLinks *self)
{
  if (self->open->len)
    g_array_set_size (self->open, self->open->len - 1);
}

const char *
pawl_links_peek_element (PawlLinks *self)
{
  Node *open = get_open (self);

  return open ? open->element : NULL;
}

int
pawl_links_get_open_line (PawlLinks *self)
{
  Node *open = get_open (self);

  return open ? open->line : 0;
}

void
pawl_links_set_corners (PawlLinks *self, guint n_corners)
{
  Node *open = get_open (self);

  if (open)
    open->n_corners = n_corners;
}

void
pawl_links_add_weight (PawlLinks *self, double weight)
{
  Node *open = get_open (self);

  if (open)
    open->weight += weight;
}

void
pawl_links_add (PawlLinks *self, const char *target_id, PawlLinkKind kind)
{
  Node *open = get_open (self);
  Link link = { NULL, kind, NONE };

  if (!open)
    return;
  link.target = g_strdup (target_id);
  link.next = open->first_link;
  open->first_link = self->links->len;
  g_array_append_val (self->links, link);
}

void
pawl_links_add_for_all (PawlLinks *self, const char *target_id)
{
  g_ptr_array_add (self->for_all, g_strdup (target_id));
}

/* ---- counting ---- */

static gboolean count_node (PawlLinks *self, guint n, const char *name, GError **error);

static gboolean
count_part (PawlLinks *self, Node *node, guint n, double times, guint step, gboolean is_inside, const char *name, GError **error)
{
  Node *part = get_node (self, n);

  if (part->progress == UNDER_WAY)
    {
      g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_REFUSED, "%s:%d: <%s> uses, in the end, itself", name, node->line, node->element);
      return FALSE;
    }
  if (!count_node (self, n, name, error))
    return FALSE;
  node->n_drawn += times * part->n_drawn;
  if (is_inside)
    {
      node->n_shapes += part->n_shapes;
      node->n_corners += part->n_corners;
    }
  node->chain = MAX (node->chain, part->chain + step);
  if (node->chain > PAWL_FIGURE_MAX_CHAIN)
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_TOO_LARGE, "%s:%d: a chain of more than %d links (<use>, fills, masks) begins here", name, node->line, PAWL_FIGURE_MAX_CHAIN);
  else if (node->n_drawn > PAWL_FIGURE_MAX_EXPANSION)
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_TOO_LARGE, "%s:%d: <%s> comes to over %d shapes when all links are followed (points, letters, effects and pictures counted in)", name, node->line, node->element, PAWL_FIGURE_MAX_EXPANSION);
  else
    return TRUE;
  return FALSE;
}

static double
get_times (PawlLinks *self, const Node *node, const Node *target, PawlLinkKind kind)
{
  switch (kind)
    {
    case PAWL_LINK_PER_SHAPE:
      return g_str_has_suffix (target->element, "Gradient") ? 1 : node->n_shapes;
    case PAWL_LINK_PER_CORNER:
      return node->n_corners;
    case PAWL_LINK_ONCE:
    default:
      return 1;
    }
}

static gboolean
count_links (PawlLinks *self, Node *node, PawlLinkKind kind, const char *name, GError **error)
{
  for (guint i = node->first_link; i != NONE; i = g_array_index (self->links, Link, i).next)
    {
      Link *link = &g_array_index (self->links, Link, i);
      guint target = link->kind == kind ? GPOINTER_TO_UINT (g_hash_table_lookup (self->by_id, link->target)) : 0;

      if (target && !count_part (self, node, target - 1, get_times (self, node, get_node (self, target - 1), kind), 1,
                                 kind == PAWL_LINK_ONCE && g_str_equal (node->element, "use"), name, error))
        return FALSE;
    }
  return TRUE;
}

/* Depth of this recursion: nesting (64) times links in a chain. A chain is found too long on the way back only, so it is bounded by the file's
 * own size on the way in; PAWL_FIGURE_MAX_ELEMENTS frames of this size fit no stack, hence the budget of levels. */
static gboolean
count_node (PawlLinks *self, guint n, const char *name, GError **error)
{
  Node *node = get_node (self, n);

  if (node->progress == DONE)
    return TRUE;
  node->progress = UNDER_WAY;
  node->n_drawn = node->weight;
  g_array_append_val (self->open, n);
  if (self->open->len > PAWL_FIGURE_MAX_DEPTH * (PAWL_FIGURE_MAX_CHAIN + 1))
    {
      g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_TOO_LARGE, "%s:%d: a chain of more than %d links (<use>, fills, masks) leads here", name, node->line, PAWL_FIGURE_MAX_CHAIN);
      return FALSE;
    }
  for (guint child = node->first_child; child != NONE; child = get_node (self, child)->next_sibling)
    if (!count_part (self, node, child, 1, 0, TRUE, name, error))
      return FALSE;
  /* In this order: what is used inherits too. */
  for (PawlLinkKind kind = PAWL_LINK_ONCE; kind <= PAWL_LINK_PER_CORNER; kind++)
    if (!count_links (self, node, kind, name, error))
      return FALSE;
  node->progress = DONE;
  g_array_set_size (self->open, self->open->len - 1);
  return TRUE;
}

gboolean
pawl_links_check (PawlLinks *self, const char *name, GError **error)
{
  g_array_set_size (self->open, 0);
  for (guint i = 0; i < self->for_all->len; i++)
    {
      guint target = GPOINTER_TO_UINT (g_hash_table_lookup (self->by_id, g_ptr_array_index (self->for_all, i)));
      Node *node = target ? get_node (self, target - 1) : NULL;

      if (node && !g_str_has_suffix (node->element, "Gradient"))
        {
          g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_REFUSED,
                       "%s:%d: a style sheet puts <%s> \"%s\" on elements that can't be counted; set it on the elements", name, node->line,
                       node->element, (const char *) g_ptr_array_index (self->for_all, i));
          return FALSE;
        }
    }
  return !self->nodes->len || count_node (self, 0, name, error);
}
