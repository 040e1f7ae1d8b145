/* src/model/readrecipe.c - recipes, in the show file or in files of their own.
 *
 * Owns     "recipes" of a show file, step by step; what the steps mean together is
 *          model/graph.
 * May use  base/, model/read, the text forms of model/.
 */
#include "model/read.h"

#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "base/limits.h"
#include "base/near.h"
#include "model/ahead.h"
#include "model/allergen.h"
#include "model/heating.h"
#include "model/partfile.h"

#define DAY   INT64_C(86400)
#define WORDS 120 /* bytes of a name */
#define LONG  (7 * DAY)

typedef struct step_parts {
    bpi_step *s;
    const char *recipe; /* its id */
} step_parts;

/* ---- ingredients --------------------------------------------------------------------------- */

static void read_amount(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_fault f = {0, "", ""};
    if (!bpi_read_is_text(r, v, m->name, "write it like \"1 1/2 cup\", \"400 g\" or \"3\""))
        return;
    if (!bpi_quantity_read((bpi_quantity *)(void *)((char *)into + m->field), v->text, v->len, &f))
        bpi_read_fault(r, v, &f);
}

static void read_weighs(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_fault f = {0, "", ""};
    (void)m;
    if (bpi_read_is_text(r, v, "weighs", "write it like \"1 cup = 125 g\"") &&
        !bpi_weight_read(&((bpi_ingredient *)into)->weighs, v->text, v->len, &f))
        bpi_read_fault(r, v, &f);
}

void bpi_read_allergens(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_word words[33] = {{NULL, 0}};
    for (uint32_t i = 0; i < bpi_allergen_count && i < 31; i++)
        words[i] = (bpi_word){bpi_allergens[i].name, 1 << i};
    bpi_member with = *m;
    with.words = words;
    bpi_read_words(r, into, v, &with);
}

static void read_ingredients(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_member members[] = {
        {"item", bpi_read_text, offsetof(bpi_ingredient, item), "\"item\": \"red lentils\"", 1,
         WORDS, 0, NULL},
        {"amount", read_amount, offsetof(bpi_ingredient, amount), NULL, 0, 0, 0, NULL},
        {"note", bpi_read_text, offsetof(bpi_ingredient, note), NULL, 0, BPI_MAX_TEXT, 0, NULL},
        {"from", bpi_read_text, offsetof(bpi_ingredient, from), NULL, 0, WORDS, 0, NULL},
        {"aisle", bpi_read_text, offsetof(bpi_ingredient, aisle), NULL, 0, WORDS, 0, NULL},
        {"instead", bpi_read_text, offsetof(bpi_ingredient, instead), NULL, 0, BPI_MAX_TEXT, 0,
         NULL},
        {"pack", read_amount, offsetof(bpi_ingredient, pack), NULL, 0, 0, 0, NULL},
        {"weighs", read_weighs, 0, NULL, 0, 0, 0, NULL},
        {"allergens", bpi_read_allergens, offsetof(bpi_ingredient, allergens), NULL, 0, 0, 0, NULL},
        {"raw", bpi_read_flag, offsetof(bpi_ingredient, raw_animal), NULL, 0, 0, 0, NULL},
    };
    bpi_step *s = ((step_parts *)into)->s;
    bpi_ingredient *list =
        BPI_READ_LIST(r, v, m->name, 0, BPI_MAX_LIST, bpi_ingredient, &s->ingredients);
    s->ingredient = list;
    for (const bpi_node *e = v->first; e && list; e = e->next) {
        bpi_ingredient *g = &list[e->index];
        g->amount.den = g->pack.den = 1;
        g->amount_text = "";
        g->where = e->at;
        bpi_read_object(r, g, e, "an ingredient", BPI_MEMBERS(members));
        const bpi_node *amount = bpi_node_member(e, "amount");
        if (amount && amount->kind == BPI_STRING)
            g->amount_text = amount->text;
    }
}

/* ---- parts of a step ----------------------------------------------------------------------- */

static void read_after(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    step_parts *p = into;
    uint32_t n = 0;
    char prefix[80], haver[80];
    snprintf(prefix, sizeof prefix, "step \"%s\" comes after step", p->s->id);
    snprintf(haver, sizeof haver, "recipe \"%s\"", p->recipe);
    if (!bpi_read_list(r, v, m->name, 0, BPI_MAX_STEPS, 1, &n))
        return;
    for (const bpi_node *e = v->first; e; e = e->next) {
        uint32_t k = bpi_read_ref(r, e, &r->step, prefix, haver);
        if (k < r->step.n && k < BPI_MAX_STEPS)
            p->s->after |= UINT64_C(1) << k;
    }
}

static void read_ahead(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    step_parts *p = into;
    char prefix[80], haver[80];
    snprintf(prefix, sizeof prefix, "step \"%s\" is for what is cooked ahead by step", p->s->id);
    snprintf(haver, sizeof haver, "recipe \"%s\"", p->recipe);
    (void)m;
    p->s->ahead_where = v->at;
    uint32_t k = bpi_read_ref(r, v, &r->step, prefix, haver);
    if (k < r->step.n && k < BPI_MAX_STEPS)
        p->s->ahead = k;
}

static void read_oven(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    (void)m;
    static const bpi_member members[] = {
        {"temperature", bpi_read_temperature, offsetof(bpi_step, oven_mC),
         "\"temperature\": \"200 C\"", 30000, 300000, 0, NULL},
        {"in", NULL, 0, NULL, 0, 0, 0, NULL},
    };
    step_parts *p = into;
    char prefix[80];
    p->s->oven_where = v->at;
    bpi_read_object(r, p->s, v, "\"oven\"", BPI_MEMBERS(members));
    const bpi_node *temperature = bpi_node_member(v, "temperature"), *in = bpi_node_member(v, "in");
    if (temperature && temperature->kind == BPI_STRING)
        p->s->oven_text = temperature->text;
    if (in && r->show->kitchen.ovens) {
        snprintf(prefix, sizeof prefix, "step \"%s\" goes in oven", p->s->id);
        uint32_t k = bpi_read_ref(r, in, &r->oven, prefix, "the kitchen");
        p->s->oven = k < r->oven.n ? k : BPI_NO_INDEX;
    }
}

static void read_tools(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    step_parts *p = into;
    (void)m;
    bpi_read_tool_names(r, &p->s->tool, &p->s->tools, v, "step", p->s->id);
}

static void skill_named(bpi_reader *r, uint32_t *skill, const bpi_node *v, const char *id)
{
    const char *text = bpi_read_plain(r, v, "skill", 1, WORDS);
    if (!text)
        return;
    bpi_near near = bpi_near_to(text, strlen(text));
    for (uint32_t i = 0; i < r->cook_skills; i++) {
        if (strcmp(r->skill[i], text) == 0) {
            *skill = i;
            return;
        }
        bpi_near_offer(&near, r->skill[i]);
    }
    char right[200] = "add it to the \"skills\" of a cook";
    if (near.name)
        snprintf(right, sizeof right, "did you mean \"%s\"?", near.name);
    bpi_read_wrong(r, BP_EVALUE, v->at, right,
                   "step \"%s\" asks for skill \"%s\", which no cook has", id, text);
}

static void read_skill(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    (void)m;
    step_parts *p = into;
    skill_named(r, &p->s->skill, v, p->s->id);
}

/* A second pair of hands. */
static void read_help(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    (void)m;
    static const bpi_member members[] = {
        {"time", bpi_read_span_member, offsetof(bpi_step, help_time), NULL, 1, DAY, 0, NULL},
        {"skill", bpi_read_ignored, 0, NULL, 0, 0, 0, NULL},
    };
    bpi_step *s = ((step_parts *)into)->s;
    s->help = bpi_read_object(r, s, v, "\"help\"", BPI_MEMBERS(members));
    s->help_where = v->at;
    const bpi_node *time = bpi_node_member(v, "time"), *skill = bpi_node_member(v, "skill");
    int64_t whole = s->together ? s->together_once + s->together_each : s->time.likely;
    if (skill)
        skill_named(r, &s->help_skill, skill, s->id);
    if (s->kind != BPI_ACTIVE)
        bpi_read_wrong(r, BP_EVALUE, v->at, "make its \"kind\" \"active\", or take it out",
                       "step \"%s\" has \"help\", and nobody stands by it", s->id);
    else if (time && s->help_time > whole)
        bpi_read_wrong(r, BP_EVALUE, time->at, "leave \"time\" out: help for all of it",
                       "\"help\" lasts longer than step \"%s\"", s->id);
    if (r->show->kitchen.cooks == 1)
        bpi_read_wrong(r, BP_EVALUE, v->at, "add one to \"cooks\", or take it out",
                       "step \"%s\" takes two cooks, and the kitchen has one", s->id);
}

/* What leaves attention for other work, and what can be that work. */
static void read_watch(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_step *s = ((step_parts *)into)->s;
    bool watch = strcmp(m->name, "watch") == 0;
    bpi_member with = *m;
    with.field = watch ? offsetof(bpi_step, watch) : offsetof(bpi_step, light);
    (watch ? bpi_read_count : bpi_read_flag)(r, s, v, &with);
    if (s->kind != BPI_ACTIVE)
        bpi_read_wrong(r, BP_EVALUE, v->at, "make its \"kind\" \"active\", or take it out",
                       "step \"%s\" has \"%s\", and nobody stands by it", s->id, m->name);
    else if (watch && s->help)
        bpi_read_wrong(r, BP_EVALUE, v->at, "keep one of the two",
                       "step \"%s\" takes two cooks and is watched by one", s->id);
    else if (s->light && s->watch)
        bpi_read_wrong(r, BP_EVALUE, v->at, "keep one of the two",
                       "step \"%s\" is watched, and light work beside what is watched", s->id);
}

static void read_keep(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    static const bpi_word kinds[] = {
        {"counter", BPI_COUNTER}, {"hot", BPI_HOT}, {"cold", BPI_COLD}, {NULL, 0}};
    bpi_step *s = ((step_parts *)into)->s;
    bpi_member with = *m;
    with.words = kinds;
    with.field = offsetof(bpi_step, keep);
    bpi_read_word(r, s, v, &with);
    if (s->kind != BPI_PASSIVE)
        bpi_read_wrong(r, BP_EVALUE, v->at, "take it out, or make the step \"passive\"",
                       "only a passive step can have \"keep\"");
    else if (s->burner)
        bpi_read_wrong(r, BP_EVALUE, v->at, "keep one of the two",
                       "step \"%s\" is on a burner and in a place at once", s->id);
    bool there = s->keep < 0 || s->keep == BPI_COUNTER;
    for (uint32_t i = 0; i < r->show->kitchen.places; i++)
        there = there || (int32_t)r->show->kitchen.place[i].keep == s->keep;
    if (!there)
        bpi_read_wrong(r, BP_EVALUE, v->at, "add one to the \"places\" of the kitchen",
                       "step \"%s\" sits in a %s place, which the kitchen does not have", s->id,
                       bpi_keep_name((bpi_keep)s->keep));
}

static void read_hold(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    (void)m;
    typedef struct hold {
        int64_t hold[BPI_KEEPS], set;
        bpi_where where[BPI_KEEPS], set_where;
    } hold;
    static const bpi_member members[] = {
        {"counter", bpi_read_span_member, offsetof(hold, hold[BPI_COUNTER]), NULL, 0, LONG,
         offsetof(hold, where[BPI_COUNTER]), NULL},
        {"hot", bpi_read_span_member, offsetof(hold, hold[BPI_HOT]), NULL, 0, LONG,
         offsetof(hold, where[BPI_HOT]), NULL},
        {"cold", bpi_read_span_member, offsetof(hold, hold[BPI_COLD]), NULL, 0, LONG,
         offsetof(hold, where[BPI_COLD]), NULL},
        {"set", bpi_read_span_member, offsetof(hold, set), NULL, 0, LONG, offsetof(hold, set_where),
         NULL},
    };
    bpi_step *s = ((step_parts *)into)->s;
    hold h = {.set = -1, .where = {v->at, v->at, v->at}, .set_where = v->at};
    if (!bpi_read_object(r, &h, v, "\"hold\"", BPI_MEMBERS(members)))
        return;
    s->hold_stated = v->count > (bpi_node_member(v, "note") ? 1u : 0u);
    if (!s->hold_stated)
        return;
    for (int i = 0; i < BPI_KEEPS; i++) {
        s->hold[i] = h.hold[i];
        s->hold_where[i] = h.where[i];
    }
    s->hold_set = h.set >= 0 ? h.set : h.hold[BPI_COUNTER];
    s->hold_set_where = h.set >= 0 ? h.set_where : h.where[BPI_COUNTER];
}

/* "together" of an unattended step: its "time" is that of one container. */
static void read_batch(bpi_reader *r, bpi_step *s, const bpi_node *v)
{
    static const bpi_member members[] = {
        {"each", bpi_read_span_member, offsetof(bpi_step, together_each), NULL, 0, DAY, 0, NULL},
        {"most", bpi_read_count, offsetof(bpi_step, together_most), NULL, 1, BPI_MAX_SWAPS, 0,
         NULL},
        {"split", bpi_read_flag, offsetof(bpi_step, together_split), NULL, 0, 0, 0, NULL},
        {"across", bpi_read_flag, offsetof(bpi_step, together_across), NULL, 0, 0, 0, NULL},
    };
    s->together = bpi_read_object(r, s, v, "\"together\"", BPI_MEMBERS(members));
    const bpi_node *each = bpi_node_member(v, "each");
    if (each && s->heat.mass_mg)
        bpi_read_wrong(r, BP_EVALUE, each->at, "take it out",
                       "how much longer \"heat\" of more takes is worked out, too");
    else if (each && s->together_each % 60)
        bpi_read_wrong(r, BP_EVALUE, each->at, "write whole minutes, such as \"each\": \"5 min\"",
                       "\"each\" of a step that nobody stands by is told in whole minutes");
    if ((s->burner || s->time.window) && (s->time.least + 59) / 60 * 60 > s->time.most)
        bpi_read_wrong(r, BP_EVALUE, s->time_where, "write a time with a whole minute in it",
                       "step \"%s\" is done together, and no whole minute lies in its \"time\"",
                       s->id);
    if (s->heat.mass_mg) /* to the second: only the whole batch is rounded up to a minute */
        s->together_each = bpi_heating_seconds(&s->heat, s->heat.mass_mg);
    s->together_once = s->heat.mass_mg ? 0 : s->time.likely - s->together_each;
}

static void read_together(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    (void)m;
    static const bpi_member members[] = {
        {"once", bpi_read_span_member, offsetof(bpi_step, together_once), "\"once\": \"2 min\"", 0,
         DAY, 0, NULL},
        {"each", bpi_read_span_member, offsetof(bpi_step, together_each), "\"each\": \"1 min\"", 0,
         DAY, 0, NULL},
        {"most", bpi_read_count, offsetof(bpi_step, together_most), NULL, 1, BPI_MAX_SWAPS, 0,
         NULL},
        {"split", bpi_read_flag, offsetof(bpi_step, together_split), NULL, 0, 0, 0, NULL},
        {"across", bpi_read_flag, offsetof(bpi_step, together_across), NULL, 0, 0, 0, NULL},
    };
    bpi_step *s = ((step_parts *)into)->s;
    s->together_most = UINT32_MAX;
    if (s->kind != BPI_ACTIVE)
        read_batch(r, s, v);
    else
        s->together = bpi_read_object(r, s, v, "\"together\"", BPI_MEMBERS(members));
    s->together_split |= s->together_across;
}

static void read_air(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    (void)m;
    static const bpi_member members[] = {
        {"time", bpi_read_length, offsetof(bpi_step, air_time), "\"time\": \"20-40 s\"", 1, 3600, 0,
         NULL},
        {"worth", bpi_read_count, offsetof(bpi_step, air_worth), NULL, 0, 100, 0, NULL},
        {"words", bpi_read_text, offsetof(bpi_step, air_words), NULL, 0, BPI_MAX_TEXT, 0, NULL},
        {"station", bpi_read_text, offsetof(bpi_step, air_station), NULL, 0, 120, 0, NULL},
    };
    bpi_step *s = ((step_parts *)into)->s;
    s->shown = bpi_read_object(r, s, v, "\"air\"", BPI_MEMBERS(members));
    if (s->air_time.window) /* on air the middle is likely, in the kitchen the least */
        s->air_time.likely = (s->air_time.least + s->air_time.most) / 2;
}

/* ---- a step -------------------------------------------------------------------------------- */

static const bpi_word kinds[] = {
    {"active", BPI_ACTIVE}, {"passive", BPI_PASSIVE}, {"oven", BPI_OVEN}, {NULL, 0}};

static const bpi_word hazards[] = {{"hot oil", BPI_HOT_OIL},
                                   {"open flame", BPI_OPEN_FLAME},
                                   {"hot liquid in blender", BPI_HOT_BLENDER},
                                   {"knife", BPI_KNIFE},
                                   {"raw poultry", BPI_RAW_POULTRY},
                                   {"raw meat", BPI_RAW_MEAT},
                                   {"alcohol", BPI_ALCOHOL},
                                   {"steam", BPI_STEAM},
                                   {"hot sugar", BPI_HOT_SUGAR},
                                   {NULL, 0}};

static const bpi_word foods[] = {
    {"whole meat", BPI_FOOD_WHOLE_MEAT}, {"ground", BPI_FOOD_GROUND}, {"poultry", BPI_FOOD_POULTRY},
    {"reheated", BPI_FOOD_REHEATED},     {"plant", BPI_FOOD_PLANT},   {"roast", BPI_FOOD_ROAST},
    {"packaged", BPI_FOOD_PACKAGED},     {"other", BPI_FOOD_OTHER},   {NULL, 0}};

static const bpi_word thaws[] = {{"cold", BPI_THAW_COLD},
                                 {"water", BPI_THAW_WATER},
                                 {"cooking", BPI_THAW_COOK},
                                 {"counter", BPI_THAW_COUNTER},
                                 {NULL, 0}};

static const bpi_member plain_members[] = {
    {"id", bpi_read_id, offsetof(bpi_step, id), "\"id\": \"chop\"", 0, 0, 0, NULL},
    {"text", bpi_read_text, offsetof(bpi_step, text), "\"text\": \"Dice the carrots\"", 1,
     BPI_MAX_TEXT, 0, NULL},
    {"kind", bpi_read_word, offsetof(bpi_step, kind), "\"kind\": \"active\"", 0, 0, 0, kinds},
    {"time", bpi_read_length, offsetof(bpi_step, time), NULL, 1, LONG,
     offsetof(bpi_step, time_where), NULL},
    {"burner", bpi_read_flag, offsetof(bpi_step, burner), NULL, 0, 0, 0, NULL},
    {"hazards", bpi_read_words, offsetof(bpi_step, hazards), NULL, 0, 0, 0, hazards},
    {"core", bpi_read_temperature, offsetof(bpi_step, core_mC), NULL, 0, 120000, 0, NULL},
    {"core_for", bpi_read_span_member, offsetof(bpi_step, core_for), NULL, 1, DAY, 0, NULL},
    {"food", bpi_read_word, offsetof(bpi_step, food), NULL, 0, 0, 0, foods},
    {"thaw", bpi_read_word, offsetof(bpi_step, thaw), NULL, 0, 0, 0, thaws},
    {"cool", NULL, 0, NULL, 0, 0, 0, NULL},
    {"heat", NULL, 0, NULL, 0, 0, 0, NULL},
    {"perishable", bpi_read_flag, offsetof(bpi_step, perishable), NULL, 0, 0, 0, NULL},
    {"after", NULL, 0, NULL, 0, 0, 0, NULL},
    {"ingredients", NULL, 0, NULL, 0, 0, 0, NULL},
    {"oven", NULL, 0, NULL, 0, 0, 0, NULL},
    {"tools", NULL, 0, NULL, 0, 0, 0, NULL},
    {"vessels", NULL, 0, NULL, 0, 0, 0, NULL},
    {"skill", NULL, 0, NULL, 0, 0, 0, NULL},
    {"help", NULL, 0, NULL, 0, 0, 0, NULL},
    {"watch", NULL, 0, NULL, 0, 0, 0, NULL},
    {"light", NULL, 0, NULL, 0, 0, 0, NULL},
    {"keep", NULL, 0, NULL, 0, 0, 0, NULL},
    {"hold", NULL, 0, NULL, 0, 0, 0, NULL},
    {"together", NULL, 0, NULL, 0, 0, 0, NULL},
    {"ahead", NULL, 0, NULL, 0, 0, 0, NULL},
    {"air", NULL, 0, NULL, 0, 0, 0, NULL},
};

/* Read after the plain ones, because they look at them. */
static const bpi_member part_members[] = {
    {"after", read_after, 0, NULL, 0, 0, 0, NULL},
    {"ahead", read_ahead, 0, NULL, 0, 0, 0, NULL},
    {"ingredients", read_ingredients, 0, NULL, 0, 0, 0, NULL},
    {"oven", read_oven, 0, NULL, 0, 0, 0, NULL},
    {"tools", read_tools, 0, NULL, 0, 0, 0, NULL},
    {"vessels", read_tools, 0, NULL, 0, 0, 0, NULL},
    {"skill", read_skill, 0, NULL, 0, 0, 0, NULL},
    {"keep", read_keep, 0, NULL, 0, 0, 0, NULL},
    {"hold", read_hold, 0, NULL, 0, 0, 0, NULL},
    {"heat", bpi_read_heat, 0, NULL, 0, 0, 0, NULL},
    {"together", read_together, 0, NULL, 0, 0, 0, NULL},
    {"help", read_help, 0, NULL, 0, 0, 0, NULL},
    {"watch", read_watch, 0, NULL, 1, 99, 0, NULL},
    {"light", read_watch, 0, NULL, 0, 0, 0, NULL},
    {"cool", bpi_read_cool, 0, NULL, 0, 0, 0, NULL},
    {"air", read_air, 0, NULL, 0, 0, 0, NULL},
};

static void check_place_of_work(bpi_reader *r, const bpi_step *s, const bpi_node *node)
{
    const bpi_node *oven = bpi_node_member(node, "oven"), *burner = bpi_node_member(node, "burner");
    const bpi_kitchen *k = &r->show->kitchen;
    if (s->kind == BPI_OVEN && !oven)
        bpi_read_wrong(r, BP_EVALUE, node->at, "add \"oven\": {\"temperature\": \"200 C\"}",
                       "step \"%s\" is of kind oven and has no \"oven\"", s->id);
    if (s->kind != BPI_OVEN && oven)
        bpi_read_wrong(r, BP_EVALUE, oven->name_at, "make its \"kind\" \"oven\", or take it out",
                       "step \"%s\" has an \"oven\" and is not of kind oven", s->id);
    if (s->kind == BPI_OVEN && k->ovens == 0)
        bpi_read_wrong(r, BP_EVALUE, oven ? oven->at : node->at, "add one to \"ovens\"",
                       "step \"%s\" needs an oven, and the kitchen has none", s->id);
    if (s->kind == BPI_OVEN && s->burner)
        bpi_read_wrong(r, BP_EVALUE, burner->at, "make two steps of it",
                       "step \"%s\" is in an oven and on a burner at once", s->id);
    else if (s->burner && k->burners == 0)
        bpi_read_wrong(r, BP_EVALUE, burner->at, "set \"burners\" in the kitchen",
                       "step \"%s\" needs a burner, and the kitchen has none", s->id);
}

static void read_step(bpi_reader *r, bpi_step *s, const bpi_node *node, const char *recipe)
{
    *s = (bpi_step){.oven_mC = BPI_NO_TEMP,
                    .core_mC = BPI_NO_TEMP,
                    .ahead = BPI_NO_INDEX,
                    .oven = BPI_NO_INDEX,
                    .skill = BPI_NO_INDEX,
                    .help_skill = BPI_NO_INDEX,
                    .keep = -1,
                    .air_worth = 10,
                    .oven_text = "",
                    .air_words = "",
                    .air_station = "",
                    .where = node->at,
                    .time_where = node->at,
                    .oven_where = node->at,
                    .hold_set = BPI_NO_LIMIT,
                    .hold_set_where = node->at};
    for (int i = 0; i < BPI_KEEPS; i++) {
        s->hold[i] = BPI_NO_LIMIT;
        s->hold_where[i] = node->at;
    }
    if (!bpi_read_object(r, s, node, "a step", BPI_MEMBERS(plain_members)))
        return;
    step_parts p = {s, recipe};
    for (size_t i = 0; i < sizeof part_members / sizeof *part_members; i++) {
        const bpi_node *v = bpi_node_member(node, part_members[i].name);
        bpi_member_read *read = part_members[i].read;
        bool of_step = read == bpi_read_cool || read == bpi_read_heat;
        if (v)
            read(r, of_step ? (void *)s : (void *)&p, v, &part_members[i]);
    }
    const bpi_node *kind = bpi_node_member(node, "kind");
    const bpi_node *cool = bpi_node_member(node, "cool");
    if (!bpi_node_member(node, "time") && !bpi_node_member(node, "heat") &&
        !(cool && bpi_node_member(cool, "to")))
        bpi_read_wrong(r, BP_EVALUE, node->at, "add \"time\": \"8 min\"", "a step needs \"time\"");
    if (kind && (bpi_node_is(kind, "active") || s->kind != BPI_ACTIVE)) /* else unreadable */
        check_place_of_work(r, s, node);
}

/* ---- a recipe ------------------------------------------------------------------------------ */

static void read_answers(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_recipe *recipe = into;
    (void)m;
    recipe->answer = bpi_read_answers(r, &recipe->answers, v);
}

static void read_recipe(bpi_reader *r, bpi_recipe *recipe, const bpi_node *node)
{
    static const bpi_member members[] = {
        {"id", bpi_read_id, offsetof(bpi_recipe, id), "\"id\": \"lentils\"", 0, 0, 0, NULL},
        {"title", bpi_read_text, offsetof(bpi_recipe, title), "\"title\": \"Red lentil soup\"", 1,
         WORDS, 0, NULL},
        {"serves", bpi_read_count, offsetof(bpi_recipe, serves), NULL, 1, 1000, 0, NULL},
        {"steps", NULL, 0, "\"steps\": [ ... ]", 0, 0, 0, NULL},
        {"nutrition", bpi_read_nutrition, 0, NULL, 0, 0, 0, NULL},
        {"answers", read_answers, 0, NULL, 0, 0, 0, NULL},
        {"$schema", bpi_read_ignored, 0, NULL, 0, 0, 0, NULL},
    };
    const size_t all = sizeof members / sizeof *members;
    recipe->where = node->at;
    recipe->serves = 4;
    bpi_nutrition_init(&recipe->nutrition);
    if (!bpi_read_object(r, recipe, node, "a recipe", members, node->parent ? all - 1 : all))
        return;
    const bpi_node *steps = bpi_node_member(node, "steps");
    if (!steps)
        return;
    bpi_step *list = BPI_READ_LIST(r, steps, "steps", 1, BPI_MAX_STEPS, bpi_step, &recipe->steps);
    recipe->step = list;
    r->step = bpi_read_ids(r, steps, "steps");
    for (const bpi_node *e = steps->first; e && list; e = e->next)
        read_step(r, &list[e->index], e, recipe->id);
    if (list)
        bpi_ahead_read(r, recipe, list, steps);
}

void bpi_read_recipes(bpi_reader *r, void *into, const bpi_node *v, const bpi_member *m)
{
    bpi_show *show = into;
    bpi_recipe *list = BPI_READ_LIST(r, v, m->name, 1, BPI_MAX_RECIPES, bpi_recipe, &show->recipes);
    const char **id = BPI_TAKE(r->a, v->count, const char *);
    bpi_names *steps = BPI_TAKE(r->a, v->count, bpi_names);
    r->recipe.unread = true;
    if (!id || !steps)
        bpi_read_no_memory(r);
    if (!list || !id || !steps)
        return;
    show->recipe = list;
    r->recipe_steps = steps;
    bool unread = false;
    for (const bpi_node *e = v->first; e; e = e->next) {
        bpi_recipe *recipe = &list[e->index];
        const bpi_node *node =
            e->kind == BPI_STRING
                ? bpi_part_file(r, e, "recipes", "recipe",
                                "write a path inside the folder of the show, such as "
                                "\"recipes/soup.json\"")
                : e;
        id[e->index] = recipe->id = recipe->title = "";
        recipe->where = e->at;
        if (!node) {
            unread = true; /* which dishes name it, nobody can tell */
            continue;
        }
        r->step = (bpi_names){0};
        read_recipe(r, recipe, node);
        steps[e->index] = r->step;
        id[e->index] = recipe->id;
        for (uint32_t i = 0; i < e->index && recipe->id[0]; i++)
            if (strcmp(id[i], recipe->id) == 0)
                bpi_read_wrong(r, BP_EVALUE, bpi_node_member(node, "id")->at,
                               "give each its own id", "two recipes have the id \"%s\"",
                               recipe->id);
    }
    r->recipe = (bpi_names){id, show->recipes, unread};
}
