/* src/model/starter.c - a first show.
 *
 * Owns     a small, whole show for somebody who begins.
 * May use  base/, the text forms of model/.
 */
#include "backpot/show.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "base/arena.h"
#include "base/clock.h"
#include "base/error.h"
#include "base/json.h"
#include "base/limits.h"
#include "base/utf8.h"
#include "model/clocktext.h"
#include "model/duration.h"

/* One dish that wants three containers (raw, one caught mid-cook, one finished), in words that say
 * how the file works. Whoever answers nothing gets a show that plans as it stands. */

#define MOST_TEXT 120
#define CALL      (INT64_C(150) * 60) /* the crew comes in this long before the hit */
#define WRAP      (INT64_C(45) * 60)  /* and leaves this long after it              */

static const bp_starter defaults = {.title = "My First Show",
                                    .date = "2027-03-03",
                                    .zone = "UTC",
                                    .hit = "08:30",
                                    .slot = "4:00",
                                    .cooks = 2,
                                    .burners = 2,
                                    .ovens = 1};

const bp_starter *bp_starter_defaults(void)
{
    return &defaults;
}

/* ---- answers ------------------------------------------------------------------------------- */

static bp_code wrong(bp_errors *errs, const char *answer, const char *text, const bpi_fault *f)
{
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, f->right, "%s \"%s\": %s", answer, text,
                       f->wrong);
}

static bp_code check_title(const char *title, bp_errors *errs)
{
    size_t len = strlen(title), blanks = strspn(title, " ");
    const char *fault = blanks == len ? "it is empty" : len > MOST_TEXT ? "it is too long" : NULL;
    for (const unsigned char *p = (const unsigned char *)title; *p; p++)
        if (*p < 0x20 || *p == 0x7F)
            fault = "it holds a control character";
    if (bpi_utf8_bad(title, len) < len)
        fault = "it is not UTF-8";
    if (!fault)
        return BP_OK;
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "write 1 to 120 bytes of plain text",
                       "title: %s", fault);
}

static bp_code check_number(const char *answer, unsigned n, unsigned most, bp_errors *errs)
{
    char right[40];
    if (n <= most)
        return BP_OK;
    snprintf(right, sizeof right, "write 1 to %u", most);
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, right, "%s: %u are too many", answer, n);
}

static bp_code check_date(const char *date, bp_errors *errs)
{
    bpi_date day;
    if (bpi_civil_read(&day, date, strlen(date)) && day.year >= BPI_MIN_YEAR &&
        day.year <= BPI_MAX_YEAR)
        return BP_OK;
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "write one from 1970 to 2037: \"2027-03-03\"",
                       "date \"%s\": it is not a usable date", date);
}

static bp_code check_hit(const char *hit, bpi_clocktext *t, bp_errors *errs)
{
    bpi_fault f = {0, "", ""};
    if (!bpi_clocktext_read(t, hit, strlen(hit), &f))
        return wrong(errs, "hit", hit, &f);
    if (t->day == 0 && !t->with_offset)
        return BP_OK;
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "write it like \"08:30\"",
                       "hit \"%s\": a plain clock time is wanted", hit);
}

static bp_code check_slot(const char *slot, int64_t *seconds, bp_errors *errs)
{
    bpi_fault f = {0, "", ""};
    if (!bpi_slot_read(seconds, slot, strlen(slot), &f))
        return wrong(errs, "slot", slot, &f);
    if (*seconds >= 60 && *seconds <= 900)
        return BP_OK;
    return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "write 1 to 15 minutes, such as \"4:00\"",
                       "slot \"%s\": the starter has too much or too little to show", slot);
}

/* ---- the text ------------------------------------------------------------------------------ */

typedef struct facts {
    bp_starter is; /* with the defaults filled in */
    int64_t slot;
    bpi_clocktext hit;
    bpi_clock clock;
    int64_t at; /* plan time of the hit */
} facts;

/* A moment as a show file has it; in a doubled hour with the offset that tells which. */
static void put_clock(bpi_text *t, const bpi_clock *clock, int64_t at)
{
    bpi_wall w = bpi_clock_wall(clock, at);
    int32_t offset = w.offset < 0 ? -w.offset : w.offset;
    bpi_text_char(t, '"');
    if (w.day)
        bpi_text_f(t, "%+" PRId32 "d ", w.day);
    bpi_text_f(t, "%02d:%02d", w.hour, w.minute);
    if (w.twice)
        bpi_text_f(t, "%c%02d:%02d", w.offset < 0 ? '-' : '+', (int)(offset / 3600),
                   (int)(offset / 60 % 60));
    bpi_text_char(t, '"');
}

static void put_string(bpi_text *t, const char *s)
{
    bpi_json_put_string(t, s, strlen(s));
}

static void put_kitchen(bpi_text *t, const facts *f)
{
    bpi_text_put(t, "  \"kitchen\": {\n"
                    "    \"note\": \"call and wrap are the earliest and latest a cook can work; "
                    "the plan calls as late as it can\",\n"
                    "    \"cooks\": [\n");
    for (unsigned i = 1; i <= f->is.cooks; i++) {
        bpi_text_f(t, "      {\"id\": \"cook-%u\", \"name\": \"Cook %u\", \"call\": ", i, i);
        put_clock(t, &f->clock, f->at - CALL);
        bpi_text_put(t, ", \"wrap\": ");
        put_clock(t, &f->clock, f->at + f->slot + WRAP);
        bpi_text_put(t, i < f->is.cooks ? "},\n" : "}\n");
    }
    bpi_text_f(t,
               "    ],\n"
               "    \"burners\": %u,\n"
               "    \"ovens\": [\n",
               f->is.burners);
    for (unsigned i = 1; i <= f->is.ovens; i++)
        bpi_text_f(t,
                   "      {\"id\": \"oven-%u\", \"name\": \"Oven %u\", \"positions\": 2, "
                   "\"heats\": \"10 C/min\", \"cools\": \"5 C/min\"}%s\n",
                   i, i, i < f->is.ovens ? "," : "");
    bpi_text_put(
        t, "    ],\n"
           "    \"tools\": [{\"id\": \"blender\", \"name\": \"stick blender\", \"count\": 1}],\n"
           "    \"vessels\": [{\"id\": \"pot\", \"name\": \"soup pot\", \"size\": \"4 l\", "
           "\"count\": 4}],\n"
           "    \"places\": [\n"
           "      {\"id\": \"warmer\", \"name\": \"hot cupboard\", \"keeps\": \"hot\", \"count\": "
           "4},\n"
           "      {\"id\": \"fridge\", \"name\": \"fridge\", \"keeps\": \"cold\", \"count\": 6}\n"
           "    ],\n"
           "    \"carry\": \"1 min\"\n"
           "  },\n");
}

static const char recipes[] =
    "  \"recipes\": [\n"
    "    {\n"
    "      \"id\": \"peas\", \"title\": \"Pea and mint soup\", \"serves\": 4,\n"
    "      \"note\": \"steps follow each other unless \\\"after\\\" says otherwise; a recipe may "
    "also be a file: write its path in place of this object\",\n"
    "      \"steps\": [\n"
    "        {\"id\": \"chop\", \"text\": \"Chop the onion and celery\", \"kind\": \"active\", "
    "\"time\": \"5 min\", \"after\": [],\n"
    "         \"note\": \"hold says how long it keeps its quality, and where\",\n"
    "         \"ingredients\": [\n"
    "           {\"item\": \"onion\", \"amount\": \"1\", \"from\": \"market\"},\n"
    "           {\"item\": \"celery\", \"amount\": \"2 stalks\", \"from\": \"market\", "
    "\"allergens\": [\"celery\"]}],\n"
    "         \"hazards\": [\"knife\"], \"hold\": {\"counter\": \"2 h\", \"cold\": \"6 h\", "
    "\"set\": \"2 h\"}},\n"
    "        {\"id\": \"sweat\", \"text\": \"Sweat them in oil\", \"kind\": \"active\", "
    "\"time\": \"4 min\", \"burner\": true, \"vessels\": [\"pot\"],\n"
    "         \"ingredients\": [{\"item\": \"olive oil\", \"amount\": \"2 tbsp\", "
    "\"from\": \"dry store\"}],\n"
    "         \"hazards\": [\"hot oil\"], \"hold\": {\"hot\": \"30 min\", \"counter\": \"20 min\", "
    "\"set\": \"20 min\"},\n"
    "         \"air\": {\"time\": \"20-40 s\", \"worth\": 30}},\n"
    "        {\"id\": \"simmer\", \"text\": \"Add peas and stock, simmer until soft\", "
    "\"kind\": \"passive\", \"time\": \"15-20 min\", \"burner\": true, \"vessels\": [\"pot\"],\n"
    "         \"note\": \"15-20 min is a window: somebody takes it off inside it\",\n"
    "         \"ingredients\": [\n"
    "           {\"item\": \"frozen peas\", \"amount\": \"1 1/2 cups\", \"from\": \"freezer\"},\n"
    "           {\"item\": \"vegetable stock\", \"amount\": \"1 l\", \"from\": \"dry store\", "
    "\"allergens\": [\"celery\"]}],\n"
    "         \"perishable\": true, \"core\": \"74 C\", \"food\": \"plant\",\n"
    "         \"hold\": {\"hot\": \"45 min\", \"set\": \"20 min\"}, \"air\": {\"time\": "
    "\"20-40 s\", \"worth\": 40}},\n"
    "        {\"id\": \"blend\", \"text\": \"Blend with mint until smooth\", \"kind\": \"active\", "
    "\"time\": \"2 min\", \"tools\": [\"blender\"],\n"
    "         \"ingredients\": [{\"item\": \"mint\", \"amount\": \"1/2 bunch\", "
    "\"from\": \"market\"}],\n"
    "         \"hazards\": [\"hot liquid in blender\"], \"hold\": {\"hot\": \"1 h\", "
    "\"set\": \"30 min\"},\n"
    "         \"air\": {\"time\": \"20-35 s\", \"worth\": 60}}\n"
    "      ]\n"
    "    }\n"
    "  ],\n";

/* Beats as shares of the slot, in hundredths, so that any slot is filled. */
static const struct {
    const char *id, *text, *rest;
    int share;
} beats[] = {
    {"hello", "Welcome, the soup in front",
     "\"dish\": \"soup\", \"shows\": \"finished\", "
     "\"keep\": true",
     12},
    {"sweat", "Onion and celery into the pot",
     "\"dish\": \"soup\", \"does\": [\"sweat\"], "
     "\"worth\": 25",
     19},
    {"peas-in", "Peas and stock go in, lid on",
     "\"dish\": \"soup\", \"does\": [\"simmer\"], "
     "\"worth\": 30",
     17},
    {"blend", "A pot that has simmered: blend it",
     "\"dish\": \"soup\", \"does\": [\"blend\"], "
     "\"worth\": 40",
     20},
    {"taste", "Everybody tastes", "\"taste\": true, \"keep\": true", 22},
    {"bye", "Where to find the recipe, close", "\"keep\": true", 10},
};

static void put_segment(bpi_text *t, const facts *f)
{
    bpi_text_put(t, "  \"segments\": [\n"
                    "    {\n"
                    "      \"id\": \"main\", \"title\": \"A bowl of green\", \"hit\": ");
    put_string(t, f->is.hit);
    bpi_text_put(t, ", \"slot\": ");
    put_string(t, f->is.slot);
    bpi_text_f(t,
               ", \"lead\": \"5 min\", \"hands\": %d,\n"
               "      \"note\": \"everything stands on the set the lead before the hit; leave "
               "\\\"beats\\\" out and they are drafted\",\n"
               "      \"hosts\": [\"the host\"],\n"
               "      \"dishes\": [{\"id\": \"soup\", \"title\": \"Pea soup\", "
               "\"recipe\": \"peas\"}],\n"
               "      \"beats\": [\n",
               f->is.cooks > 1 ? 1 : 0);
    size_t n = sizeof beats / sizeof *beats;
    for (size_t i = 0; i < n; i++) {
        int64_t likely = f->slot * beats[i].share / 100;
        bpi_text_f(t,
                   "        {\"id\": \"%s\", \"text\": \"%s\", \"time\": \"%" PRId64 "-%" PRId64
                   " s\", %s}%s\n",
                   beats[i].id, beats[i].text, likely * 3 / 4, likely * 5 / 4 + 1, beats[i].rest,
                   i + 1 < n ? "," : "");
    }
    bpi_text_put(t, "      ]\n    }\n  ]\n}\n");
}

static void put_show(bpi_text *t, const facts *f)
{
    bpi_text_put(t, "{\n  \"backpot\": 1,\n  \"id\": \"my-show\",\n  \"title\": ");
    put_string(t, f->is.title);
    bpi_text_put(t, ",\n  \"date\": ");
    put_string(t, f->is.date);
    bpi_text_put(t, ",\n  \"zone\": ");
    put_string(t, f->is.zone);
    bpi_text_put(t,
                 ",\n  \"note\": \"a note may stand in any object and changes nothing; all clock "
                 "times are local to the zone\",\n");
    put_kitchen(t, f);
    bpi_text_put(t, recipes);
    put_segment(t, f);
}

static const char *or_default(const char *answer, const char *usual)
{
    return answer ? answer : usual;
}

/* Date, zone and hit together make a moment, unless the clock skips it. */
static bp_code place_hit(facts *f, bpi_arena *a, bp_errors *errs)
{
    bpi_zone *zone = NULL;
    bpi_date date = {0, 0, 0};
    bpi_fault fault = {0, "", ""};
    bp_code code = bpi_zone_open(&zone, a, f->is.zone, strlen(f->is.zone));
    if (code == BP_ENOMEM)
        return bpi_error_no_memory(errs);
    if (code != BP_OK)
        return bpi_error_f(errs, code, BPI_NOWHERE, "write an IANA name such as \"Europe/Lisbon\"",
                           "zone \"%s\": it is not known", f->is.zone);
    if (!bpi_civil_read(&date, f->is.date, strlen(f->is.date)) ||
        !bpi_clock_init(&f->clock, zone, date))
        return bpi_error_f(errs, BP_EVALUE, BPI_NOWHERE, "write a date that the zone has",
                           "date \"%s\": the calendar of %s skips it", f->is.date, f->is.zone);
    if (!bpi_clocktext_place(&f->at, &f->clock, &f->hit, &fault))
        return wrong(errs, "hit", f->is.hit, &fault);
    return BP_OK;
}

/* The reader has the last word: a starter that is wrong must not be written. */
static bp_code check_whole(const bpi_text *t, bp_errors *errs)
{
    bp_show *show = NULL;
    if (t->failed)
        return bpi_error_no_memory(errs);
    bp_code code = bp_show_read(&show, t->s, t->len, "the starter", NULL, errs);
    bp_show_free(show);
    return code;
}

bp_code bp_starter_write(char **out, size_t *len, const bp_starter *a, bp_errors *errs)
{
    *out = NULL;
    *len = 0;
    facts f = {.at = 0,
               .is = {or_default(a->title, defaults.title), or_default(a->date, defaults.date),
                      or_default(a->zone, defaults.zone), or_default(a->hit, defaults.hit),
                      or_default(a->slot, defaults.slot), a->cooks ? a->cooks : defaults.cooks,
                      a->burners ? a->burners : defaults.burners,
                      a->ovens == BP_STARTER_NONE ? 0
                      : a->ovens                  ? a->ovens
                                                  : defaults.ovens}};
    bp_code checks[] = {check_title(f.is.title, errs),
                        check_date(f.is.date, errs),
                        check_hit(f.is.hit, &f.hit, errs),
                        check_slot(f.is.slot, &f.slot, errs),
                        check_number("cooks", f.is.cooks, BPI_MAX_COOKS, errs),
                        check_number("burners", f.is.burners, 64, errs),
                        check_number("ovens", f.is.ovens, 16, errs)};
    for (size_t i = 0; i < sizeof checks / sizeof *checks; i++)
        if (checks[i] != BP_OK)
            return checks[i];
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_arena *arena = bpi_arena_new();
    bp_code code = arena ? place_hit(&f, arena, errs) : bpi_error_no_memory(errs);
    if (code == BP_OK) {
        put_show(&t, &f);
        code = check_whole(&t, errs);
    }
    bpi_arena_free(arena);
    if (code != BP_OK) {
        bpi_text_release(&t);
        return code;
    }
    *out = t.s; /* of base/memory, as bp_free wants it */
    *len = t.len;
    return BP_OK;
}
