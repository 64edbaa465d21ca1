/*
 * A fit rule put as a question, before its answer is shown: the two poses without ghost, dimension, sign or number that would give the answer away,
 * in shuffled order, each seen from another side where that tells no lie. Pure: the same rule and seed give the same question.
 *
 * What may be mirrored or turned, so that right stays right and the part stays the part that it is:
 *
 * sense, turned part           any way: it is alike round its axis, and the arrow that says which way goes with it
 * sense, outline               half a turn; a mirrored outline is the part of the other hand
 * sense, spin                  never: a mirror changes the hand, and "seen from the frame" has an upper side
 * side                         never: a mirror changes the side, a turn what is above the pin
 * index, hole, turned or none  any way
 * index, angle, no outline     left to right: a tooth late is as wrong as a tooth early, and what is at the top stays there
 * index, depth, turned or none any way
 * index, an outline            hole and depth half a turn, angle never
 * spread                       left to right: from the other end of the bore; what is kept clear of may be below, by gravity
 * mate                         left to right: blocks that stand for the pieces
 * which, order                 never: a list to be read, and a stack with its first layer at the bottom
 *
 * Either has no wrong way and is never asked; nor is a rule whose two poses look alike, or so nearly that no picture tells them apart without its
 * dimension, or that lacks its dimensions.
 */
#pragma once

#include "fit/pawl-pose.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_VIEW_AS_DRAWN = 0,
  PAWL_VIEW_MIRRORED = 1 << 0,                                     /* left to right */
  PAWL_VIEW_UPSIDE_DOWN = 1 << 1,                                  /* mirrored top to bottom */
  PAWL_VIEW_TURNED = PAWL_VIEW_MIRRORED | PAWL_VIEW_UPSIDE_DOWN,   /* by half a turn */
} PawlView;

typedef struct {
  gboolean is_right_first;
  PawlView views[2]; /* of the right pose, of the wrong one */
} PawlQuestion;

/* Both poses in one frame; and of a part that is turned round, where its ends differ: what a lens enlarges. */
typedef struct {
  GPtrArray  *poses[2];   /* (element-type PawlStroke): right, wrong */
  PawlStroke *tellings[2]; /* (nullable) two points and perhaps the middle of their arc, in the view of each pose; not to be drawn */
} PawlQuestionPoses;

/* Whether there is something to choose between. */
gboolean     pawl_rule_can_be_asked   (const PawlRule *rule);
/* How many of @views the rule's kind may be seen in; the first one is as drawn. */
guint        pawl_rule_list_views     (const PawlRule *rule, PawlView views[4]);
/* Out of what tells one asking from another: the job, the ask, how often it was asked. */
guint32      pawl_question_make_seed  (const char *job, const char *ask, guint n_asked);
PawlQuestion pawl_question_make       (const PawlRule *rule, guint32 seed);
gboolean     pawl_question_is_right    (const PawlQuestion *self, gboolean is_second); /* is the second picture, or the first, the right one? */
const char  *pawl_view_get_name       (PawlView view); /* "as-drawn", "mirrored", "upside-down", "turned" */

/* @rule: one that can be asked. (transfer full): cleared with pawl_question_poses_clear() */
void         pawl_question_draw        (const PawlQuestion *self, const PawlRule *rule, PawlQuestionPoses *poses);
void         pawl_question_poses_clear (PawlQuestionPoses *self);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlQuestionPoses, pawl_question_poses_clear)

G_END_DECLS
