/* What can be told from an author's words alone. Pure functions of a text in English. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* (transfer full) (nullable): the first "A in (B mm)", or the other way round, of which neither side is the other one rounded, and what would be right. */
char       *pawl_words_find_inch_metric (const char *text);
/* (transfer full) (nullable): the first "No. N (size)" or "letter X drill (size)" that the table of drills contradicts, and what would be right. */
char       *pawl_words_find_drill       (const char *text);
/* Does a second sentence follow the first? "No. 4", "e.g." and the like do not end one. */
gboolean    pawl_words_are_two_sentences (const char *text);
/* (nullable) (transfer none): "wire" or "drill" when the text asks to pass one; NULL when it does not speak of it, forbids it, or names a size by it. */
const char *pawl_words_ask_for_wire     (const char *text);

/* A topic of caution that words can betray. */
typedef struct {
  const char *topic;   /* as in PawlCaution */
  const char *pattern; /* a regular expression */
} PawlTopicWords;

extern const PawlTopicWords pawl_topic_words[]; /* ends with a NULL topic */
/* (transfer full): to look for a topic in many texts. */
GRegex     *pawl_topic_words_compile    (const PawlTopicWords *topic);
/* (transfer full) (nullable): the word by which @text speaks of the topic of @regex. */
char       *pawl_words_find_topic       (const char *text, const GRegex *regex);

G_END_DECLS
