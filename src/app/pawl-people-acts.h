/* What the page of people is asked to do: each act is a form, and what becomes of it in the record. PINs are checked, never shown or kept. */
#pragma once

#include "app/pawl-field-form.h"
#include "training/pawl-crew.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_PEOPLE_ADD,   /* somebody new: name, role */
  PAWL_PEOPLE_ROLE,  /* another role */
  PAWL_PEOPLE_PIN,   /* a PIN, typed twice; who has one gives it first, or an owner gives theirs */
  PAWL_PEOPLE_LEAVE, /* stays in the list as somebody who left */
  PAWL_PEOPLE_STAGE, /* a stage in a skill, stated by a trainer, with the PIN of who goes on where they have one */
  PAWL_PEOPLE_RULES, /* what follows from a stage, for this person */
} PawlPeopleAct;

typedef struct {
  PawlRecord           *record;
  const PawlCrew       *crew;
  const PawlCrewMember *member; /* (nullable) for PAWL_PEOPLE_ADD */
  const char           *person; /* at the bench */
} PawlPeopleScene;

/* Makes the form. */
void     pawl_people_act_open   (PawlFieldForm *form, PawlPeopleAct act, const PawlPeopleScene *scene);
/* Another choice was taken of @id: what it asks may be other than before. */
void     pawl_people_act_choose (PawlFieldForm *form, PawlPeopleAct act, const char *id, const PawlPeopleScene *scene);
/* (transfer full) (nullable): name of whom it was about, once it is in the record; else @error says what would be right. */
char    *pawl_people_act_take   (PawlFieldForm *form, PawlPeopleAct act, const PawlPeopleScene *scene, GError **error);

G_END_DECLS
