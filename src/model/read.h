/* src/model/read.h - what the readers of the parts of a show file share.
 *
 * Owns     the table form of an object's members, and the readers of single values.
 * May use  base/, the text forms of model/.
 *
 * An object is described by a table of members, which are read in table order into one structure:
 *
 *     { "id", bpi_read_id, offsetof(bpi_oven, id), .example = "\"id\": \"deck\"" }
 *       name   reader      field of the structure   example: the member is required
 *
 * A member that the table does not have is a mistake, with the nearest known name as a hint. Every
 * object may have a "note", which is text for people. Reading goes on after a mistake; the field
 * then keeps its default. Texts are trimmed of blanks at both ends; a control character or a
 * bidirectional control in one is a mistake. Ids and text forms (lengths, times, amounts) are not
 * trimmed.
 */
#ifndef BP_MODEL_READ_H
#define BP_MODEL_READ_H

#include "base/json.h"
#include "base/text.h"
#include "model/fault.h"
#include "model/show.h"

/* The ids of one list, for names that refer to it. */
typedef struct bpi_names {
    const char *const *id; /* "" where one could not be read */
    uint32_t n;
    bool unread; /* the list itself is wrong: nothing more is said about names in it */
} bpi_names;

typedef struct bpi_reader {
    bpi_arena *a;
    bp_errors *errs;
    bp_code code; /* of the first mistake; BP_OK: none yet */
    bpi_show *show;
    const char *file, *folder; /* of the show file; folder NULL: none */
    bpi_text bytes;            /* of all files read, for the stamp    */
    bool clock_set;            /* show->clock can be asked            */
    bpi_names oven, circuit, place, supply, recipe, dish, beat, step, station, camera;
    const bpi_names *recipe_steps; /* by recipe index                 */
    const char **skill;
    size_t skill_room;
    uint32_t cook_skills; /* skills up to here belong to a cook       */
} bpi_reader;

typedef struct bpi_word {
    const char *text; /* NULL ends the list */
    int value;
} bpi_word;

typedef struct bpi_member bpi_member;
typedef void bpi_member_read(bpi_reader *r, void *into, const bpi_node *value, const bpi_member *m);
struct bpi_member {
    const char *name;
    bpi_member_read *read; /* NULL: allowed here, read elsewhere             */
    size_t field;          /* offset in the structure                        */
    const char *example;   /* not NULL: the member is required               */
    int64_t low, high;     /* bounds of a number, a length or a text's bytes */
    size_t where;          /* offset of a bpi_where to fill; 0: none         */
    const bpi_word *words; /* of bpi_read_word and bpi_read_words            */
};
#define BPI_MEMBERS(table) (table), sizeof(table) / sizeof *(table)

/* ---- mistakes ---------------------------------------------------------------------------- */

/* Add a mistake at a value; `right` comes before the printf form of `wrong`. */
#if defined(__GNUC__)
__attribute__((format(printf, 5, 6)))
#endif
void bpi_read_wrong(bpi_reader *r, bp_code code, bpi_where at, const char *right,
                    const char *wrong, ...);
void bpi_read_no_memory(bpi_reader *r);
/* The place of byte `at` of a text value; of the value itself where it was written with escapes. */
bpi_where bpi_read_byte(const bpi_node *text, size_t at);
void bpi_read_fault(bpi_reader *r, const bpi_node *text, const bpi_fault *f);

/* ---- objects and lists ------------------------------------------------------------------- */

/* Read the members of `node` into `into`; `what` names the object, such as "a step". false: it is
 * no object. Text fields are "" first. */
bool bpi_read_object(bpi_reader *r, void *into, const bpi_node *node, const char *what,
                     const bpi_member *members, size_t n);

/* Storage for the elements of a list: NULL, and *n is 0, where it is no list, has fewer than
 * `least` or more than `most`, or there is no memory. */
void *bpi_read_list(bpi_reader *r, const bpi_node *node, const char *name, uint32_t least,
                    uint32_t most, size_t size, uint32_t *n);
#define BPI_READ_LIST(r, node, name, least, most, T, n)                                            \
    ((T *)bpi_read_list((r), (node), (name), (least), (most), sizeof(T), (n)))

/* Ids of the objects in a list, which must differ. `what` is "step". NULL node: an empty list. */
bpi_names bpi_read_ids(bpi_reader *r, const bpi_node *list, const char *what);

/* Index of what a text names; names.n: none, and a mistake was added:
 * `PREFIX "TEXT", which HAVER does not have`. */
uint32_t bpi_read_ref(bpi_reader *r, const bpi_node *text, const bpi_names *names,
                      const char *prefix, const char *haver);

/* Is the value a text of plain characters? Otherwise a mistake was added. */
bool bpi_read_is_text(bpi_reader *r, const bpi_node *v, const char *name, const char *right);
/* The text of a value, trimmed; NULL: a mistake was added. */
const char *bpi_read_plain(bpi_reader *r, const bpi_node *v, const char *name, int64_t low,
                           int64_t high);
/* Plan time of a clock text; BPI_NO_TIME: a mistake was added, or the zone is not known. */
int64_t bpi_read_moment(bpi_reader *r, const bpi_node *v, const char *name);

/* ---- readers of single values, by type of the field --------------------------------------- */

bpi_member_read bpi_read_id;          /* const char *                                         */
bpi_member_read bpi_read_text;        /* const char *: low to high bytes                       */
bpi_member_read bpi_read_ignored;     /* nothing: the text means nothing to us                */
bpi_member_read bpi_read_flag;        /* bool                                                 */
bpi_member_read bpi_read_count;       /* uint32_t                                             */
bpi_member_read bpi_read_span_member; /* int64_t, seconds                                     */
bpi_member_read bpi_read_slot_member; /* int64_t, seconds                                     */
bpi_member_read bpi_read_length;      /* bpi_length                                           */
bpi_member_read bpi_read_temperature; /* int32_t, thousandths of a degree C                   */
bpi_member_read bpi_read_rate;        /* int32_t, thousandths of a degree C a minute          */
bpi_member_read bpi_read_word;        /* int or an enum                                       */
bpi_member_read bpi_read_words;       /* uint32_t bit set                                     */
bpi_member_read bpi_read_clock;       /* int64_t, plan time                                   */

/* ---- the parts of a show ------------------------------------------------------------------ */

bpi_member_read bpi_read_allergens; /* uint32_t bit set, model/allergen.h */
bpi_member_read bpi_read_cool;      /* bpi_step, "cool" of it, after its kind */
bpi_member_read bpi_read_heat;      /* bpi_step, "heat" of it, after its kind */
bpi_member_read bpi_read_kitchen;   /* bpi_kitchen  */
bpi_member_read bpi_read_recipes;   /* bpi_show     */
bpi_member_read bpi_read_segments;  /* bpi_show     */
bpi_member_read bpi_read_safety;    /* bpi_show     */
bpi_member_read bpi_read_pantry;    /* bpi_show     */
bpi_member_read bpi_read_supplies;  /* bpi_show     */
bpi_member_read bpi_read_nutrition; /* bpi_recipe   */
bpi_member_read bpi_read_hits;      /* bpi_segment  */
bpi_member_read bpi_read_teases;    /* bpi_segment, after its dishes, slot, float */
bpi_member_read bpi_read_beats;     /* bpi_segment, after its dishes, stations, cameras */
bpi_member_read bpi_read_dress;     /* bpi_segment, after its dishes, stations, beats */
bpi_member_read bpi_read_graphics;  /* bpi_beat     */

/* Add what "tools" or "vessels" of `who` (such as "step") names to `*list`, whose length is `*n`:
 * indices into the kitchen's one list of both. */
void bpi_read_tool_names(bpi_reader *r, const uint32_t **list, uint32_t *n, const bpi_node *v,
                         const char *who, const char *id);

/* Index of the dish that a text names, of the segment that is being read; BPI_NO_INDEX: none, and a
 * mistake was added, which begins with `prefix`. */
uint32_t bpi_read_dish(bpi_reader *r, const bpi_node *v, const char *prefix, const char *segment);
/* Two segments, or two hits of one, cannot be on air at once, however late they come. */
void bpi_check_air(bpi_reader *r, const bpi_segment *a, const bpi_segment *b);
/* "answers" of a recipe or a segment. */
const bpi_answer *bpi_read_answers(bpi_reader *r, uint32_t *n, const bpi_node *v);
/* "claims" of a beat whose dish has been read. */
void bpi_read_claims(bpi_reader *r, bpi_beat *b, const bpi_node *v, const bpi_segment *seg);

/* Where "safety" names no limits: the set that is built in for that. */
void bpi_read_default_limits(bpi_reader *r, bpi_show *show);

/* Index of a skill, added where it is new; BPI_NO_INDEX: no memory. */
uint32_t bpi_read_skill(bpi_reader *r, const char *name);

#endif
