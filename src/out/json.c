#include "out/json.h"

#include <inttypes.h>

#include "out/jput.h"
#include "out/moment.h"

typedef struct scribe {
    bpi_jput j;
    const bp_plan *plan;
    bpi_zone zone;
    bpi_clock clock;
} scribe;

#define TEXT(s, of, field)   bpi_jput_text(&(s)->j, #field, (of)->field)
#define NUMBER(s, of, field) bpi_jput_number(&(s)->j, #field, (of)->field)
#define FLAG(s, of, field)   bpi_jput_flag(&(s)->j, #field, (of)->field)
#define MOMENT(s, of, field) put_moment(s, #field, (of)->field)
#define INDEX(s, of, field)  put_index(s, #field, (of)->field)
#define LIST(s, of, field)   put_list(s, #field, (of)->field, true)  /* of plan.index */
#define RANGE(s, of, field)  put_list(s, #field, (of)->field, false) /* of an array   */
#define TEMP(s, of, field)   put_temp(s, #field, (of)->field)

static void put_moment(scribe *s, const char *name, int64_t t)
{
    if (t == BP_NO_TIME) {
        bpi_jput_null(&s->j, name);
        return;
    }
    bpi_jput_name(&s->j, name);
    bpi_text_f(s->j.out, "{\"t\": %" PRId64 ", \"local\": \"", t);
    bpi_moment_put(s->j.out, &s->clock, t);
    bpi_text_put(s->j.out, "\"}");
}

static void put_index(scribe *s, const char *name, uint32_t i)
{
    if (i == BP_NO_INDEX)
        bpi_jput_null(&s->j, name);
    else
        bpi_jput_number(&s->j, name, i);
}

static void put_temp(scribe *s, const char *name, int32_t mC)
{
    if (mC == BP_NO_TEMP)
        bpi_jput_null(&s->j, name);
    else
        bpi_jput_number(&s->j, name, mC);
}

static void put_list(scribe *s, const char *name, bp_slice slice, bool indirect)
{
    bpi_jput_name(&s->j, name);
    bpi_text_char(s->j.out, '[');
    for (uint32_t i = 0; i < slice.n; i++) {
        uint32_t n = slice.first + i;
        bpi_text_f(s->j.out, "%s%" PRIu32, i ? ", " : "", indirect ? s->plan->index[n] : n);
    }
    bpi_text_char(s->j.out, ']');
}

static void put_person(scribe *s, const bp_person *p)
{
    TEXT(s, p, id);
    TEXT(s, p, name);
    FLAG(s, p, presenter);
    RANGE(s, p, stints);
}

static void put_stint(scribe *s, const bp_stint *t)
{
    INDEX(s, t, person);
    MOMENT(s, t, call);
    MOMENT(s, t, release);
    MOMENT(s, t, earliest);
    MOMENT(s, t, wrap);
}

static void put_rest(scribe *s, const bp_rest *r)
{
    INDEX(s, r, person);
    MOMENT(s, r, from);
    MOMENT(s, r, to);
}

static void put_thing(scribe *s, const bp_thing *t)
{
    static const char *const kinds[] = {
        [BP_BURNER] = "burner",
        [BP_OVEN] = "oven",
        [BP_TOOL] = "tool",
        [BP_VESSEL] = "vessel",
        [BP_PLACE_COUNTER] = "counter",
        [BP_PLACE_HOT] = "hot",
        [BP_PLACE_COLD] = "cold",
        [BP_SET] = "set",
    };
    bpi_jput_text(&s->j, "kind", kinds[t->kind]);
    TEXT(s, t, id);
    TEXT(s, t, name);
    TEXT(s, t, size);
    NUMBER(s, t, count);
}

/* A set as the list of its numbers: 64 bits do not survive in a double. */
static void put_bits(scribe *s, const char *name, uint64_t set)
{
    const char *between = "";
    bpi_jput_name(&s->j, name);
    bpi_text_char(s->j.out, '[');
    for (int i = 0; i < 64; i++) {
        if (!(set >> i & 1))
            continue;
        bpi_text_f(s->j.out, "%s%d", between, i);
        between = ", ";
    }
    bpi_text_char(s->j.out, ']');
}

static void put_air(scribe *s, const bp_air *a)
{
    TEXT(s, a, id);
    TEXT(s, a, title);
    NUMBER(s, a, hit_no);
    NUMBER(s, a, hits);
    MOMENT(s, a, hit);
    NUMBER(s, a, slot);
    MOMENT(s, a, set_by);
    NUMBER(s, a, floats);
    TEXT(s, a, dress);
    FLAG(s, a, rehearsal);
    FLAG(s, a, drafted);
    RANGE(s, a, beats);
    RANGE(s, a, teases);
    TEXT(s, a, hosts);
    TEXT(s, a, tasters);
    NUMBER(s, a, portions);
    NUMBER(s, a, pace);
    RANGE(s, a, versions);
    TEXT(s, a, longest_why);
    MOMENT(s, a, hit_from);
    MOMENT(s, a, hit_to);
    INDEX(s, a, hit_from_box);
    INDEX(s, a, hit_to_box);
    TEXT(s, a, hit_from_why);
    TEXT(s, a, hit_to_why);
}

static void put_version(scribe *s, const bp_version *v)
{
    NUMBER(s, v, least);
    NUMBER(s, v, most);
    put_bits(s, "kept", v->kept);
    LIST(s, v, unused);
    LIST(s, v, at_least);
    LIST(s, v, at_most);
}

static void put_beat(scribe *s, const bp_beat *b)
{
    TEXT(s, b, id);
    TEXT(s, b, text);
    TEXT(s, b, words);
    TEXT(s, b, station);
    TEXT(s, b, caution);
    INDEX(s, b, dish);
    put_moment(s, "from", b->dropped ? BP_NO_TIME : b->from);
    NUMBER(s, b, length);
    NUMBER(s, b, time_in);
    NUMBER(s, b, time_left);
    NUMBER(s, b, least);
    NUMBER(s, b, likely);
    NUMBER(s, b, most);
    NUMBER(s, b, spoken);
    FLAG(s, b, words_floor);
    FLAG(s, b, dropped);
    FLAG(s, b, taste);
    FLAG(s, b, keep);
    FLAG(s, b, ready);
    NUMBER(s, b, worth);
    put_bits(s, "needs", b->needs);
    LIST(s, b, in);
    LIST(s, b, out);
    LIST(s, b, on);
    RANGE(s, b, lines);
    NUMBER(s, b, post);
    NUMBER(s, b, room);
    NUMBER(s, b, place);
    NUMBER(s, b, walk);
    TEXT(s, b, crosses);
    TEXT(s, b, camera);
    NUMBER(s, b, camera_move);
    NUMBER(s, b, camera_late);
}

static void put_line(scribe *s, const bp_line *l)
{
    bpi_jput_text(&s->j, "kind", l->kind == BP_LINE_SUPER ? "super" : "graphic");
    TEXT(s, l, text);
    NUMBER(s, l, up);
}

static void put_claim(scribe *s, const bp_claim *c)
{
    INDEX(s, c, beat);
    TEXT(s, c, dish);
    TEXT(s, c, text);
    TEXT(s, c, figure);
    bpi_jput_text(&s->j, "holds", bp_truth_name(c->holds));
    TEXT(s, c, why);
    TEXT(s, c, rule);
}

static void put_reply(scribe *s, const bp_reply *r)
{
    INDEX(s, r, air);
    TEXT(s, r, dish);
    TEXT(s, r, about);
    TEXT(s, r, ask);
    TEXT(s, r, say);
    NUMBER(s, r, spoken);
}

static void put_tease(scribe *s, const bp_tease *t)
{
    MOMENT(s, t, at);
    NUMBER(s, t, length);
    INDEX(s, t, dish);
    INDEX(s, t, container);
}

static void put_dish(scribe *s, const bp_dish *d)
{
    TEXT(s, d, id);
    TEXT(s, d, title);
    TEXT(s, d, letter);
    TEXT(s, d, recipe);
    NUMBER(s, d, serves);
}

static void put_container(scribe *s, const bp_container *c)
{
    TEXT(s, c, code);
    INDEX(s, c, dish);
    INDEX(s, c, air);
    bpi_jput_text(&s->j, "stage", bp_stage_name(c->stage));
    bpi_jput_text(&s->j, "role", bp_role_name(c->role));
    TEXT(s, c, state);
    TEXT(s, c, why);
    TEXT(s, c, station);
    TEXT(s, c, size);
    TEXT(s, c, allergens);
    NUMBER(s, c, size_num);
    NUMBER(s, c, size_den);
    NUMBER(s, c, portions);
    INDEX(s, c, beat);
    MOMENT(s, c, set_by);
    MOMENT(s, c, on_set);
    MOMENT(s, c, needed);
    MOMENT(s, c, last);
    MOMENT(s, c, best_by);
    MOMENT(s, c, use_by);
    NUMBER(s, c, late);
    MOMENT(s, c, hit_from);
    MOMENT(s, c, hit_to);
    NUMBER(s, c, remake);
    put_bits(s, "steps", c->steps);
    FLAG(s, c, comes_hot);
    put_bits(s, "hot", c->hot);
}

static void put_op(scribe *s, const bp_op *o)
{
    bpi_jput_text(&s->j, "kind", bp_op_kind_name(o->kind));
    TEXT(s, o, key);
    TEXT(s, o, text);
    TEXT(s, o, detail);
    TEXT(s, o, caution);
    INDEX(s, o, person);
    LIST(s, o, serves);
    LIST(s, o, uses);
    INDEX(s, o, dish);
    INDEX(s, o, air);
    NUMBER(s, o, watch);
    FLAG(s, o, light);
    MOMENT(s, o, from);
    MOMENT(s, o, to);
    MOMENT(s, o, off_least);
    MOMENT(s, o, off_most);
    MOMENT(s, o, latest_from);
    MOMENT(s, o, hold_until);
    TEMP(s, o, oven_mC);
    TEMP(s, o, core_mC);
    TEXT(s, o, oven_text);
    TEXT(s, o, core_text);
}

static void put_circuit(scribe *s, const bp_circuit *c)
{
    TEXT(s, c, id);
    TEXT(s, c, name);
    NUMBER(s, c, amperes);
    NUMBER(s, c, volts);
    NUMBER(s, c, watts);
    NUMBER(s, c, most);
    MOMENT(s, c, most_at);
}

static void put_draw(scribe *s, const bp_draw *d)
{
    INDEX(s, d, op);
    INDEX(s, d, circuit);
    NUMBER(s, d, watts);
}

static void put_good(scribe *s, const bp_good *g)
{
    bpi_jput_text(&s->j, "kind", bp_good_kind_name(g->kind));
    TEXT(s, g, item);
    TEXT(s, g, note);
    TEXT(s, g, from);
    TEXT(s, g, need);
    TEXT(s, g, buy);
    TEXT(s, g, codes);
    TEXT(s, g, allergens);
    TEXT(s, g, aisle);
    TEXT(s, g, have);
    TEXT(s, g, instead);
    FLAG(s, g, provided);
}

static void put_stand(scribe *s, const bp_stand *t)
{
    bpi_jput_text(&s->j, "kind", bp_good_kind_name(t->kind));
    TEXT(s, t, item);
    TEXT(s, t, note);
    NUMBER(s, t, count);
    INDEX(s, t, air);
    INDEX(s, t, container);
    INDEX(s, t, beat);
    TEXT(s, t, station);
}

static void put_pack(scribe *s, const bp_pack *p)
{
    bpi_jput_text(&s->j, "use", bp_pack_for_name(p->use));
    INDEX(s, p, air);
    bpi_jput_text(&s->j, "kind", bp_good_kind_name(p->kind));
    TEXT(s, p, item);
    TEXT(s, p, note);
    NUMBER(s, p, count);
    NUMBER(s, p, in_use);
    FLAG(s, p, provided);
    TEXT(s, p, codes);
}

static void put_finding(scribe *s, const bp_finding *f)
{
    static const char *const weights[] = {
        [BP_NOTE] = "note", [BP_CAUTION] = "caution", [BP_STOP] = "stop"};
    bpi_jput_text(&s->j, "weight", weights[f->weight]);
    INDEX(s, f, container);
    MOMENT(s, f, at);
    TEXT(s, f, rule);
    TEXT(s, f, text);
    TEXT(s, f, accepted);
}

static void put_reading(scribe *s, const bp_reading *r)
{
    LIST(s, r, containers);
    MOMENT(s, r, at);
    TEXT(s, r, text);
    TEXT(s, r, rule);
}

static void put_fact(scribe *s, const bp_fact *f)
{
    TEXT(s, f, text);
    TEXT(s, f, pointer);
    TEXT(s, f, file);
    NUMBER(s, f, line);
    NUMBER(s, f, col);
}

static void put_fix(scribe *s, const bp_fix *f)
{
    TEXT(s, f, text);
    TEXT(s, f, pointer);
    FLAG(s, f, whole);
}

static void put_goal(scribe *s, const bp_goal *g)
{
    TEXT(s, g, name);
    TEXT(s, g, unit);
    NUMBER(s, g, value);
    NUMBER(s, g, bound);
    FLAG(s, g, proved);
}

static void put_bins(scribe *s, const uint32_t *bin)
{
    bpi_jput_name(&s->j, "bin");
    bpi_text_char(s->j.out, '[');
    for (uint32_t i = 0; i < BP_CHANCE_BINS; i++)
        bpi_text_f(s->j.out, "%s%" PRIu32, i ? ", " : "", bin[i]);
    bpi_text_char(s->j.out, ']');
}

static void put_odds(scribe *s, const bp_odds *o)
{
    NUMBER(s, o, on_time);
    MOMENT(s, o, half);
    MOMENT(s, o, nine_tenths);
    put_bins(s, o->bin);
}

static void put_driver(scribe *s, const bp_driver *d)
{
    INDEX(s, d, op);
    NUMBER(s, d, late);
    NUMBER(s, d, critical);
}

static void put_early(scribe *s, const bp_early *e)
{
    NUMBER(s, e, by);
    NUMBER(s, e, on_time);
    NUMBER(s, e, stale);
    INDEX(s, e, person);
}

static void put_buffer(scribe *s, const bp_buffer *b)
{
    TEXT(s, b, recipe);
    TEXT(s, b, step);
    TEXT(s, b, text);
    NUMBER(s, b, seconds);
}

static void put_chance(scribe *s, const bp_chance *c, uint32_t containers)
{
    if (!c) {
        bpi_jput_null(&s->j, "chance");
        return;
    }
    bpi_jput_open(&s->j, "chance", '{');
    NUMBER(s, c, days);
    bpi_jput_name(&s->j, "seed");
    bpi_text_f(s->j.out, "%" PRIu64, c->seed);
    NUMBER(s, c, share);
    NUMBER(s, c, uncertain);
    NUMBER(s, c, on_time);
    NUMBER(s, c, width);
    put_bins(s, c->bin);
    bpi_jput_open(&s->j, "odds", '[');
    for (uint32_t i = 0; i < containers; i++) {
        bpi_jput_open(&s->j, NULL, '{');
        put_odds(s, &c->odds[i]);
        bpi_jput_close(&s->j, '}');
    }
    bpi_jput_close(&s->j, ']');
    bpi_jput_open(&s->j, "driver", '[');
    for (uint32_t i = 0; i < c->drivers; i++) {
        bpi_jput_open(&s->j, NULL, '{');
        put_driver(s, &c->driver[i]);
        bpi_jput_close(&s->j, '}');
    }
    bpi_jput_close(&s->j, ']');
    bpi_jput_open(&s->j, "early", '[');
    for (uint32_t i = 0; i < c->earlies; i++) {
        bpi_jput_open(&s->j, NULL, '{');
        put_early(s, &c->early[i]);
        bpi_jput_close(&s->j, '}');
    }
    bpi_jput_close(&s->j, ']');
    NUMBER(s, c, asked);
    NUMBER(s, c, without);
    bpi_jput_open(&s->j, "buffer", '[');
    for (uint32_t i = 0; i < c->buffers; i++) {
        bpi_jput_open(&s->j, NULL, '{');
        put_buffer(s, &c->buffer[i]);
        bpi_jput_close(&s->j, '}');
    }
    bpi_jput_close(&s->j, ']');
    bpi_jput_close(&s->j, '}');
}

/* One array of the plan under its name, each member as put_NAME writes it. */
#define ARRAY(s, name, count)                                                                      \
    do {                                                                                           \
        bpi_jput_open(&(s)->j, #name, '[');                                                        \
        for (uint32_t i = 0; i < (s)->plan->count; i++) {                                          \
            bpi_jput_open(&(s)->j, NULL, '{');                                                     \
            put_##name(s, &(s)->plan->name[i]);                                                    \
            bpi_jput_close(&(s)->j, '}');                                                          \
        }                                                                                          \
        bpi_jput_close(&(s)->j, ']');                                                              \
    } while (0)

static void put_arrays(scribe *s)
{
    ARRAY(s, person, persons);
    ARRAY(s, stint, stints);
    ARRAY(s, rest, rests);
    ARRAY(s, thing, things);
    ARRAY(s, air, airs);
    ARRAY(s, beat, beats);
    ARRAY(s, version, versions);
    ARRAY(s, tease, teases);
    ARRAY(s, line, lines);
    ARRAY(s, claim, claims);
    ARRAY(s, reply, replies);
    ARRAY(s, dish, dishes);
    ARRAY(s, container, containers);
    ARRAY(s, op, ops);
    ARRAY(s, circuit, circuits);
    ARRAY(s, draw, draws);
    ARRAY(s, good, goods);
    ARRAY(s, stand, stands);
    ARRAY(s, pack, packs);
    TEXT(s, s->plan, limits);
    FLAG(s, s->plan, stopped);
    ARRAY(s, finding, findings);
    ARRAY(s, reading, readings);
    ARRAY(s, fact, facts);
    FLAG(s, s->plan, facts_minimal);
    FLAG(s, s->plan, unsure);
    ARRAY(s, fix, fixes);
    FLAG(s, s->plan, fixes_cut);
    FLAG(s, s->plan, late_unsure);
    ARRAY(s, goal, goals);
}

static void put_plan(scribe *s)
{
    static const char *const verdicts[] = {
        [BP_PLANNED] = "planned", [BP_LATE] = "late", [BP_NONE] = "none"};
    const bp_plan *p = s->plan;
    bpi_jput_open(&s->j, NULL, '{');
    NUMBER(s, p, format);
    bpi_jput_text(&s->j, "verdict", verdicts[p->verdict]);
    TEXT(s, p, show_id);
    TEXT(s, p, title);
    TEXT(s, p, file);
    TEXT(s, p, zone);
    NUMBER(s, p, year);
    NUMBER(s, p, month);
    NUMBER(s, p, day);
    NUMBER(s, p, midnight);
    TEXT(s, p, stamp);
    put_moment(s, "mended", p->mended ? p->mended_at : BP_NO_TIME);
    NUMBER(s, p, mishaps);
    FLAG(s, p, letter);
    NUMBER(s, p, alarm);
    TEXT(s, p, defer);
    FLAG(s, p, proved);
    bpi_jput_number(&s->j, "work", p->work > INT64_MAX ? INT64_MAX : (int64_t)p->work);
    put_arrays(s);
    put_chance(s, p->chance, p->containers);
    bpi_jput_close(&s->j, '}');
    bpi_text_char(s->j.out, '\n');
}

bp_code bpi_json_write(bpi_text *out, const bp_plan *plan, bp_errors *errs)
{
    scribe s = {.j = {.out = out}, .plan = plan};
    bp_code rc = bpi_moment_clock(&s.clock, &s.zone, plan, errs);
    if (rc != BP_OK)
        return rc;
    put_plan(&s);
    return out->failed ? bpi_error_no_memory(errs) : BP_OK;
}
