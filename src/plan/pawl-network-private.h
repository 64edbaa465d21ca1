/* The inside of a network, shared by the files of this folder only. */
#pragma once

#include "plan/pawl-network.h"

G_BEGIN_DECLS

typedef struct {
  gboolean is_wait;
  gint64   duration; /* of a wait: the minimum */
  gint64   max;      /* of a wait; or PAWL_NETWORK_NO_MAX */
  GArray  *needs;    /* (element-type guint) */
  GArray  *followers; /* (element-type guint) */
  GArray  *uses;     /* (element-type guint): resources */
} PawlNode;

struct _PawlNetwork {
  GPtrArray *nodes;  /* (element-type PawlNode) */
  GArray    *places; /* (element-type guint): of each resource */
  PawlTimes *hours;  /* (nullable) */
};

static inline PawlNode *
pawl_network_peek_node (const PawlNetwork *self, guint node)
{
  return g_ptr_array_index (self->nodes, node);
}

/* (transfer full) (array): every node behind what it needs, else in the order in which they were added. The network has no cycle. */
guint *pawl_network_dup_order (const PawlNetwork *self);

/* The work whose places a wait holds on to: @node itself when it is work, or a wait that runs already. */
guint  pawl_network_find_root (const PawlNetwork *self, guint node);

G_END_DECLS
