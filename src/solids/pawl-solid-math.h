/* Points, vectors and frames for solids. Right-handed, millimetres. */
#pragma once

#include <glib.h>
#include <math.h>

G_BEGIN_DECLS

typedef struct { double x, y, z; } PawlVec;
typedef struct { double x, y; } PawlFlat; /* in a section, an outline or on the sheet */

/* A local frame: origin and three unit axes, right-handed, in the frame it stands in. */
typedef struct { PawlVec o, ex, ey, ez; } PawlFrame;

static inline PawlVec
vec (double x, double y, double z)
{
  return (PawlVec) { x, y, z };
}

static inline PawlVec
vec_add (PawlVec a, PawlVec b)
{
  return vec (a.x + b.x, a.y + b.y, a.z + b.z);
}

static inline PawlVec
vec_sub (PawlVec a, PawlVec b)
{
  return vec (a.x - b.x, a.y - b.y, a.z - b.z);
}

static inline PawlVec
vec_scale (PawlVec a, double k)
{
  return vec (a.x * k, a.y * k, a.z * k);
}

/* a + k b */
static inline PawlVec
vec_step (PawlVec a, double k, PawlVec b)
{
  return vec (a.x + k * b.x, a.y + k * b.y, a.z + k * b.z);
}

static inline PawlVec
vec_between (PawlVec a, PawlVec b, double share)
{
  return vec_step (a, share, vec_sub (b, a));
}

static inline double
vec_dot (PawlVec a, PawlVec b)
{
  return a.x * b.x + a.y * b.y + a.z * b.z;
}

static inline PawlVec
vec_cross (PawlVec a, PawlVec b)
{
  return vec (a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x);
}

static inline double
vec_length (PawlVec a)
{
  return sqrt (vec_dot (a, a));
}

/* The unit vector along @a; the null vector stays null. */
static inline PawlVec
vec_unit (PawlVec a)
{
  double length = vec_length (a);

  return length > 0.0 ? vec_scale (a, 1.0 / length) : a;
}

static inline PawlVec
frame_turn (const PawlFrame *frame, PawlVec local)
{
  return vec_add (vec_add (vec_scale (frame->ex, local.x), vec_scale (frame->ey, local.y)), vec_scale (frame->ez, local.z));
}

static inline PawlVec
frame_place (const PawlFrame *frame, PawlVec local)
{
  return vec_add (frame->o, frame_turn (frame, local));
}

static inline PawlVec
frame_turn_back (const PawlFrame *frame, PawlVec v)
{
  return vec (vec_dot (v, frame->ex), vec_dot (v, frame->ey), vec_dot (v, frame->ez));
}

static inline PawlVec
frame_place_back (const PawlFrame *frame, PawlVec p)
{
  return frame_turn_back (frame, vec_sub (p, frame->o));
}

G_END_DECLS
