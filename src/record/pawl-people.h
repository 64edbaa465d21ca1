/*
 * Who works here: names, roles, and PINs to sign with. A list of this record's own, beside the entries: an entry says by itself who did what.
 *
 * PINs never leave the file: no bundle has them, no merge brings them, and what is stored is a yescrypt hash. That is for the bench, where
 * somebody could press a colleague's name; whoever can write the file can also take the list apart.
 */
#pragma once

#include "record/pawl-record.h"

G_BEGIN_DECLS

#define PAWL_PEOPLE_ERROR (pawl_people_error_quark ())
GQuark pawl_people_error_quark (void);

typedef enum {
  PAWL_PEOPLE_ERROR_UNKNOWN,   /* nobody of that name, or no such role */
  PAWL_PEOPLE_ERROR_BAD_NAME,
  PAWL_PEOPLE_ERROR_BAD_PIN,   /* none that can be taken; the message says what would do */
  PAWL_PEOPLE_ERROR_NO_PIN,    /* has none, so can't prove anything by it */
  PAWL_PEOPLE_ERROR_WRONG_PIN,
  PAWL_PEOPLE_ERROR_WAIT,      /* too many wrong ones; the message says for how long */
} PawlPeopleError;

typedef enum { PAWL_ROLE_FITTER, PAWL_ROLE_TRAINER, PAWL_ROLE_CHECKER, PAWL_ROLE_OWNER } PawlRole;

const char *pawl_role_get_name  (PawlRole role); /* "fitter" */
gboolean    pawl_role_from_name (const char *name, PawlRole *role);
gboolean    pawl_role_trains    (PawlRole role); /* states stages, tightens, plants: trainers and owners */

typedef struct {
  char    *name;
  PawlRole role;
  gboolean is_retired;
  gboolean has_pin;
} PawlPerson;

void        pawl_person_free    (PawlPerson *self);

/* (transfer full) (element-type PawlPerson): by name; those who left too. */
GPtrArray  *pawl_people_list    (PawlRecord *record, GError **error);
/* (transfer full): @name without regard to case and blanks around it. UNKNOWN when nobody has it. */
PawlPerson *pawl_people_lookup  (PawlRecord *record, const char *name, GError **error);
/* Takes @name into the list, or gives who is there already another role, and back when they had left. BAD_NAME. */
gboolean    pawl_people_add     (PawlRecord *record, const char *name, PawlRole role, GError **error);
/* Stays in the list as somebody who left, without a PIN. */
gboolean    pawl_people_retire  (PawlRecord *record, const char *name, GError **error);

#define PAWL_PIN_MIN_LENGTH 4
#define PAWL_PIN_MAX_LENGTH 12
#define PAWL_PIN_FREE_TRIES 3   /* wrong ones before there is a delay */
#define PAWL_PIN_FIRST_DELAY_SEC 5
#define PAWL_PIN_LONGEST_DELAY_SEC 900

/* @pin: (nullable): digits; NULL takes it away. UNKNOWN, BAD_PIN. */
gboolean    pawl_people_set_pin   (PawlRecord *record, const char *name, const char *pin, GError **error);
/**
 * pawl_people_check_pin:
 * @error: UNKNOWN, also who left; NO_PIN; WRONG_PIN; WAIT, and then @pin was not looked at; the errors of the record, which has to be writable
 *
 * Whether @pin is that of @name. A try is counted on disk before it is judged, so that neither a restart nor a kill gives another one:
 * after three wrong ones in a row there is a delay of 5 seconds, and each wrong one more doubles it, to 15 minutes at most. Time is the record's clock.
 */
gboolean    pawl_people_check_pin (PawlRecord *record, const char *name, const char *pin, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlPerson, pawl_person_free)

G_END_DECLS
