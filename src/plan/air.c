/* src/plan/air.c - appearances and their beats.
 *
 * Owns     lists of the plan, filled in from live/ and prep/.
 * May use  plan/fill, live/, prep/, safety/caution, model/, base/.
 */
#include "backpot/slot.h"
#include "live/stage.h"
#include "live/station.h"
#include "live/words.h"
#include "model/allergen.h"
#include "plan/fill.h"
#include "safety/caution.h"

/* Number of a segment's dish over the whole plan: its letter, from the containers. A dish without a
 * container has none. */
static uint32_t dish_of(const bpi_fill *f, uint32_t segment, uint32_t dish)
{
    for (uint32_t b = 0; f->prep && dish != BPI_NO_INDEX && b < f->prep->boxes; b++)
        if (f->live->air[f->prep->box[b].air].segment == segment &&
            bpi_fill_swap(f, b)->dish == dish)
            return f->prep->box[b].dish;
    return BP_NO_INDEX;
}

/* "Ana, Ben (allergic: milk)" */
static const char *names_of(bpi_fill *f, const char *const *name, const uint32_t *allergies,
                            uint32_t n)
{
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_put(&text, "");
    for (uint32_t i = 0; i < n; i++) {
        bpi_text_f(&text, "%s%s", i ? ", " : "", name[i]);
        if (!allergies[i])
            continue;
        bpi_text_put(&text, " (allergic: ");
        bpi_allergen_put(&text, allergies[i], BPI_LAW_ANY);
        bpi_text_char(&text, ')');
    }
    return bpi_fill_text(f, &text);
}

static bool of_beat(const bpi_fill *f, uint32_t box, uint32_t air, uint32_t beat)
{
    return f->prep->box[box].air == air && (bpi_fill_swap(f, box)->beats >> beat & 1);
}

/* What is done on air is as hot and as sharp as in the kitchen. */
static const char *caution_of(bpi_fill *f, const bpi_segment *seg, const bpi_beat *beat)
{
    uint32_t hazards = 0;
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_put(&text, "");
    for (uint32_t i = 0; beat->dish != BPI_NO_INDEX && i < beat->does_n; i++)
        hazards |= f->show->recipe[seg->dish[beat->dish].recipe].step[beat->does[i]].hazards;
    bpi_caution_put(&text, hazards);
    return bpi_fill_text(f, &text);
}

/* The beat before on air; BPI_NO_INDEX: none. */
static uint32_t beat_before(const bpi_air *a, uint32_t i)
{
    while (i-- > 0)
        if (!a->fitted[i].dropped)
            return i;
    return BPI_NO_INDEX;
}

/* Hot containers in the way to a beat: those that stand at a station that is passed, and those that
 * are carried along from one station to another. */
static const char *crosses_of(bpi_fill *f, uint32_t air, uint32_t i)
{
    const bpi_air *a = &f->live->air[air];
    const bpi_segment *g = &f->show->segment[a->segment];
    uint32_t last = beat_before(a, i), to = a->beat[i].at;
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_put(&text, "");
    for (uint32_t b = 0; last != BPI_NO_INDEX && g->stations && b < f->prep->boxes; b++) {
        const bpi_swap *w = bpi_fill_swap(f, b);
        uint32_t from = a->beat[last].at, at;
        if (f->prep->box[b].air != air || from == to ||
            !bpi_station_hot(&f->show->recipe[f->prep->box[b].recipe], a, w, last))
            continue;
        at = bpi_station_of(a, w, last);
        bool past = at != BPI_NO_INDEX && ((from < at && at < to) || (to < at && at < from)) &&
                    w->last_beat >= i;
        bool along = (w->beats >> i & 1) && w->first_beat < i && at != to && at != BPI_NO_INDEX;
        if (past)
            bpi_text_f(&text, "%spast %s, where %s is hot", text.len ? "; " : "", g->station[at].id,
                       f->prep->box[b].code);
        else if (along)
            bpi_text_f(&text, "%s%s comes along hot from %s", text.len ? "; " : "",
                       f->prep->box[b].code, g->station[at].id);
    }
    return bpi_fill_text(f, &text);
}

/* 0: not stated. */
static uint32_t room_at(const bpi_segment *segment, uint32_t at)
{
    uint32_t room = at < segment->stations ? segment->station[at].room : UINT32_MAX;
    return room == UINT32_MAX ? 0 : room;
}

static void fill_beat(bpi_fill *f, uint32_t air, uint32_t i, bp_beat *out)
{
    const bpi_air *a = &f->live->air[air];
    const bpi_beat *beat = &a->beat[i];
    const bpi_fitted *fit = &a->fitted[i];
    const bpi_segment *segment = &f->show->segment[a->segment];
    int64_t slot = segment->slot;
    *out = (bp_beat){
        .id = bpi_fill_copy(f, beat->id),
        .text = bpi_fill_copy(f, beat->text),
        .words = bpi_fill_copy(f, beat->words),
        .station = bpi_fill_copy(f, beat->station),
        .caution = caution_of(f, segment, beat),
        .dish = dish_of(f, a->segment, beat->dish),
        .from = fit->from,
        .length = fit->length,
        .time_in = fit->dropped ? 0 : fit->from - a->at,
        .time_left = fit->dropped ? 0 : a->at + slot - fit->from - fit->length,
        .least = fit->least,
        .likely = fit->likely,
        .most = fit->most,
        .spoken = bpi_words_time(beat->words, segment->pace),
        .words_floor = fit->words_floor,
        .dropped = fit->dropped,
        .taste = beat->taste,
        .keep = beat->keep,
        .ready = fit->ready,
        .worth = beat->worth,
        .needs = fit->needs,
        .post = beat->at < segment->stations ? beat->at + 1 : 0,
        .room = room_at(segment, beat->at),
        .place = bpi_station_place(segment, beat),
        .walk = fit->walk,
        .camera = bpi_fill_copy(f, beat->camera),
        .camera_move = beat->camera_at == BPI_NO_INDEX ? 0 : segment->camera[beat->camera_at].move,
        .crosses = fit->dropped || !f->prep ? "" : crosses_of(f, air, i),
    };
    if (fit->dropped || !f->prep)
        return;
    out->in = bpi_fill_begin(f);
    for (uint32_t b = 0; b < f->prep->boxes; b++)
        if (of_beat(f, b, air, i) && bpi_fill_swap(f, b)->first_beat == i)
            bpi_fill_push(f, &out->in, b);
    out->out = bpi_fill_begin(f);
    for (uint32_t b = 0; b < f->prep->boxes; b++)
        if (of_beat(f, b, air, i) && bpi_fill_swap(f, b)->last_beat == i)
            bpi_fill_push(f, &out->out, b);
    out->on = bpi_fill_begin(f);
    for (uint32_t b = 0; b < f->prep->boxes; b++)
        if (of_beat(f, b, air, i))
            bpi_fill_push(f, &out->on, b);
}

static uint32_t hero(const bpi_fill *f, uint32_t air, uint32_t dish, uint32_t tease)
{
    uint32_t found = BP_NO_INDEX;
    for (uint32_t b = 0; f->prep && b < f->prep->boxes; b++) {
        const bpi_swap *w = bpi_fill_swap(f, b);
        if (f->prep->box[b].air == air && w->dish == dish && w->tease != BPI_NO_INDEX &&
            w->tease <= tease)
            found = b;
    }
    return found;
}

/* Does each camera get from station to station in time, at the lengths of the plan? */
static void put_cameras(bp_plan *p, bp_beat *beat)
{
    for (uint32_t a = 0; a < p->airs; a++) {
        int64_t from[BP_SLOT_BEATS], length[BP_SLOT_BEATS], late[BP_SLOT_BEATS];
        bp_slice s = p->air[a].beats;
        uint64_t kept = 0;
        for (uint32_t i = 0; i < s.n; i++) {
            kept |= beat[s.first + i].dropped ? 0 : UINT64_C(1) << i;
            from[i] = beat[s.first + i].time_in;
            length[i] = beat[s.first + i].length;
        }
        bp_slot_cameras(late, p, a, kept, from, length);
        for (uint32_t i = 0; i < s.n; i++)
            beat[s.first + i].camera_late = late[i];
    }
}

static const char *dress_of(bpi_fill *f, const bpi_segment *seg)
{
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_put(&text, "");
    bpi_segment_put_dress(&text, seg);
    return bpi_fill_text(f, &text);
}

static void fill_appearance(bpi_fill *f, uint32_t i, bp_air *out, bp_tease *tease)
{
    const bpi_air *a = &f->live->air[i];
    const bpi_segment *seg = &f->show->segment[a->segment];
    bpi_text id = BPI_TEXT_EMPTY;
    bpi_text_put(&id, seg->id);
    if (seg->hits > 1)
        bpi_text_f(&id, "/%u", (unsigned)a->hit + 1);
    out->id = bpi_fill_text(f, &id);
    bpi_text title = BPI_TEXT_EMPTY;
    bpi_text_f(&title, "%s%s", seg->rehearsal ? "Rehearsal: " : "", seg->title);
    out->title = bpi_fill_text(f, &title);
    out->rehearsal = seg->rehearsal;
    out->hit_no = a->hit + 1;
    out->hits = seg->hits;
    out->hit = a->at;
    out->slot = seg->slot;
    out->floats = seg->floats;
    out->dress = dress_of(f, seg);
    out->set_by = a->at - seg->lead;
    out->drafted = a->drafted;
    out->hosts = names_of(f, seg->host, seg->host_allergies, seg->hosts);
    out->tasters = names_of(f, seg->taster, seg->taster_allergies, seg->tasters);
    out->portions = a->portions;
    out->pace = seg->pace;
    out->longest_why = out->hit_from_why = out->hit_to_why = "";
    out->hit_from = out->hit_to = BP_NO_TIME;
    out->hit_from_box = out->hit_to_box = BP_NO_INDEX;
    out->teases.first = f->plan->teases;
    for (uint32_t t = 0; t < seg->teases; t++)
        if (bpi_stage_tease_hit(seg, &seg->tease[t]) == a->hit) {
            tease[f->plan->teases++] = (bp_tease){seg->tease[t].at, seg->tease[t].length,
                                                  dish_of(f, a->segment, seg->tease[t].dish),
                                                  hero(f, i, seg->tease[t].dish, t)};
            out->teases.n++;
        }
}

void bpi_fill_air(bpi_fill *f)
{
    bp_plan *p = f->plan;
    uint32_t airs = f->live->airs, beats = 0, teases = 0;
    uint32_t *beat0 = BPI_FILL(f, airs, uint32_t);
    for (uint32_t i = 0; i < airs && beat0; i++) {
        beat0[i] = beats;
        beats += f->live->air[i].beats;
        teases += f->show->segment[f->live->air[i].segment].teases;
    }
    bp_air *air = BPI_FILL(f, airs, bp_air);
    bp_beat *beat = BPI_FILL(f, beats, bp_beat);
    bp_tease *tease = BPI_FILL(f, teases, bp_tease);
    if (f->failed)
        return;
    if (f->prep)
        bpi_fill_boxes(f, beat0);
    for (uint32_t i = 0; i < airs && !f->failed; i++) {
        fill_appearance(f, i, &air[i], tease);
        air[i].beats = (bp_slice){beat0[i], f->live->air[i].beats};
        for (uint32_t j = 0; j < air[i].beats.n; j++)
            fill_beat(f, i, j, &beat[beat0[i] + j]);
    }
    if (!f->failed)
        bpi_fill_talk(f, beat);
    f->air = air;
    p->air = air;
    p->airs = airs;
    p->beat = beat;
    p->beats = beats;
    p->tease = tease;
    if (!f->failed)
        put_cameras(p, beat);
}
