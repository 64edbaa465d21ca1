/* The texts inside a bundle, for a reader without Pawl. They depend on nothing, so that equal entries make equal bundles. */
#include "bundle/pawl-bundle-private.h"

static const char README[] =
  "This is a Pawl bundle: work on mechanical units, as it was recorded at the bench.\n"
  "\n"
  "It is an ordinary zip. Nothing in it is needed to read it but this text.\n"
  "\n"
  "  manifest.json      name, size in bytes and SHA-256 of every other member, in their order\n"
  "  manifest.sha256    SHA-256 of manifest.json; \"sha256sum -c manifest.sha256\" checks it\n"
  "  kept/DIGEST        a file that entries name by its SHA-256: a procedure (XML), a figure (SVG), a photo;\n"
  "                     manifest.json says which\n"
  "  entries/ID.jsonl   one job, or one measuring instrument: an entry on each line, as a JSON object\n"
  "\n"
  "Pawl takes it into a record with \"pawl merge FILE\". That can be done any number of times and in any order;\n"
  "what is there already is not taken twice, and a bundle that is not as it was written is not taken at all.\n"
  "\n"
  "ENTRIES\n"
  "\n"
  "  id        of the entry, unique\n"
  "  job       id of the job's first entry\n"
  "  number    how many entries this one stands on, itself counted\n"
  "  previous  digest of the entry before it; empty in the first. Where work on one job had gone on in two places\n"
  "            and was brought together, an entry may have several before it: their digests, sorted, blanks between\n"
  "  kind      what happened: opened, answered, step-done, deviated, photo, signed, ...\n"
  "  subject   what it happened to: a step, a question, a part\n"
  "  person    who did it\n"
  "  at        when it happened: ISO 8601, with the offset of the place\n"
  "  written   when it reached the record\n"
  "  body      everything else, as a JSON object of texts\n"
  "  digest    see below\n"
  "\n"
  "DIGESTS\n"
  "\n"
  "The digest of an entry is SHA-256, in lower-case hexadecimal, over these texts in UTF-8, each as a netstring, one\n"
  "directly after the other: \"pawl-entry-1\", id, job, number, previous, kind, subject, person, at, written, body.\n"
  "A netstring is the length in bytes, a colon, the bytes, a comma: \"hello\" is \"5:hello,\" and an empty text \"0:,\".\n"
  "Texts are as the JSON of the line means them; body is one of them, and is not to be written anew.\n"
  "In Python:\n"
  "\n"
  "  import hashlib, json, sys\n"
  "  columns = \"id job number previous kind subject person at written body\".split()\n"
  "  for line in open(sys.argv[1], encoding=\"utf-8\"):\n"
  "      entry = json.loads(line)\n"
  "      texts = [\"pawl-entry-1\"] + [str(entry[column]) for column in columns]\n"
  "      data = b\"\".join(b\"%d:%s,\" % (len(text.encode()), text.encode()) for text in texts)\n"
  "      print(hashlib.sha256(data).hexdigest() == entry[\"digest\"], entry[\"number\"], entry[\"kind\"])\n"
  "\n"
  "So each entry vouches for all before it. The head of a job is the digest of its last entry, and a printed report has\n"
  "it on its last page. A job that went on in two places and was not yet brought together has several last entries; its\n"
  "head is SHA-256 over the netstrings of \"pawl-head-1\" and of their digests, sorted, with blanks between.\n"
  "\n"
  "Digests show that something was changed by accident or by hand. They can't show that all of them were computed anew\n"
  "after a change: only the head on paper, or another copy, shows that.\n"
  "\n"
  "What is recorded here is a record of work. It releases nothing for air, road or pressure.\n";

const char *
pawl_bundle_peek_readme (void)
{
  return README;
}

static const char NAMELESS_README[] =
  "These are jobs on mechanical units without people's names, written by Pawl to compare how people learn.\n"
  "\n"
  "  manifest.json      name, size in bytes and SHA-256 of every other member, in their order\n"
  "  manifest.sha256    SHA-256 of manifest.json; \"sha256sum -c manifest.sha256\" checks it\n"
  "  kept/DIGEST        a procedure (XML); who is named in it and works in this shop is \"somebody\"\n"
  "  entries/ID.jsonl   one job: an entry on each line, as a JSON object\n"
  "\n"
  "\"pawl class --from FILE\" shows its figures. It is no bundle: no record takes it in, its entries have no digests, and it\n"
  "proves nothing.\n"
  "\n"
  "People are \"person 1\", \"person 2\", ...: the same number is the same person within this file, and says nothing else.\n"
  "Kept are: when something was done, which step or question it was about, outcomes, readings as typed, choices, and by\n"
  "whom, as a number. Left out are: customers, serial numbers, work orders, notes, complaints, reasons, captions, photos,\n"
  "figures, marks of instruments, lots, where donor parts came from, statements of who signed, words of planted faults.\n"
  "\n"
  "Days and hours are kept. Whoever knows who was at the bench on a day can still tell who it was.\n";

const char *
pawl_bundle_peek_nameless_readme (void)
{
  return NAMELESS_README;
}
