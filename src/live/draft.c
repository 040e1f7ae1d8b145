#include "live/draft.h"

#include <string.h>

#include "base/limits.h"
#include "base/text.h"
#include "live/drop.h"
#include "live/stage.h"
#include "live/station.h"
#include "live/words.h"

/* How long such a beat takes: common practice, no source. A close-up takes as long as it takes to
 * name the dish; a tasting, a bite and a reaction each; both can be talked over. */
typedef enum usual { OPEN, REVEAL, TASTE, CLOSE, SHOW } usual;
static const struct {
    int64_t least, likely, most;
    int32_t worth;
} usual_time[] = {
    [OPEN] = {10, 20, 45, 50}, [REVEAL] = {8, 15, 40, 60}, [TASTE] = {15, 30, 75, 40},
    [CLOSE] = {8, 15, 30, 50}, [SHOW] = {15, 30, 60, 10}, /* a step without a time of its own */
};

typedef struct draft {
    bpi_arena *arena;
    const bpi_segment *segment;
    bpi_beat *beat;
    uint32_t n;
    bool failed;
} draft;

static const char *join(draft *d, const char *one, const char *between, const char *other)
{
    bpi_text t = BPI_TEXT_EMPTY;
    bpi_text_f(&t, "%s%s%s", one, between, other);
    const char *s = t.failed ? NULL : bpi_arena_copy(d->arena, t.s, t.len);
    bpi_text_release(&t);
    d->failed |= s == NULL;
    return s;
}

static void put_station(const draft *d, bpi_beat *b, uint32_t at)
{
    if (at >= d->segment->stations)
        return;
    b->at = at;
    b->station = d->segment->station[at].id;
}

/* Where a step is shown: where its recipe says, else where the one before it is. */
static uint32_t shown_at(const draft *d, const bpi_step *s, uint32_t before)
{
    for (uint32_t i = 0; i < d->segment->stations; i++)
        if (strcmp(d->segment->station[i].id, s->air_station) == 0)
            return i;
    return before;
}

static bpi_beat *add(draft *d, usual u, const char *id, const char *text)
{
    bpi_beat *b = &d->beat[d->n++];
    b->id = id;
    b->text = text;
    b->words = b->station = b->camera = "";
    b->dish = b->at = b->camera_at = BPI_NO_INDEX;
    put_station(d, b, 0);
    b->time = (bpi_length){.least = usual_time[u].least,
                           .likely = usual_time[u].likely,
                           .most = usual_time[u].most,
                           .where = d->segment->slot_where};
    b->worth = usual_time[u].worth;
    b->keep = u != SHOW;
    b->where = d->segment->where;
    return b;
}

static void add_step(draft *d, uint32_t dish, const bpi_recipe *r, uint32_t step, uint32_t at)
{
    const bpi_step *s = &r->step[step];
    bpi_beat *b = add(d, SHOW, join(d, d->segment->dish[dish].id, ".", s->id), s->text);
    uint32_t *does = BPI_TAKE(d->arena, 1, uint32_t);
    if (!does) {
        d->failed = true;
        return;
    }
    *does = step;
    put_station(d, b, at);
    b->dish = dish;
    b->shows = BPI_SHOWS_STEPS;
    b->does = does;
    b->does_n = 1;
    if (s->air_time.most > 0)
        b->time = s->air_time;
    b->words = s->air_words;
    b->worth = s->air_worth;
    b->where = s->where;
}

static void add_all(draft *d, const bpi_show *show)
{
    const bpi_segment *g = d->segment;
    add(d, OPEN, "open", join(d, "Welcome", g->title[0] ? ": " : "", g->title));
    for (uint32_t i = 0; i < g->dishes; i++) {
        const bpi_recipe *r = &show->recipe[g->dish[i].recipe];
        uint32_t at = 0;
        for (uint32_t k = 0; k < r->steps; k++) {
            const bpi_step *s = &r->step[r->order[k]];
            if (!s->shown)
                continue;
            at = shown_at(d, s, at);
            add_step(d, i, r, r->order[k], at);
        }
        bpi_beat *b = add(d, REVEAL, join(d, g->dish[i].id, ".", "finished"),
                          join(d, "Show it finished", ": ", g->dish[i].title));
        b->dish = i;
        b->shows = BPI_SHOWS_FINISHED;
    }
    if (bpi_stage_portions(g) > 0)
        add(d, TASTE, "taste", "Everybody tastes")->taste = true;
    add(d, CLOSE, "close", "Close");
}

static size_t count_all(const bpi_show *show, const bpi_segment *g)
{
    size_t n = 2 + (bpi_stage_portions(g) > 0);
    for (uint32_t i = 0; i < g->dishes; i++) {
        const bpi_recipe *r = &show->recipe[g->dish[i].recipe];
        n++;
        for (uint32_t k = 0; k < r->steps; k++)
            n += r->step[k].shown;
    }
    return n;
}

static bp_code put_all(draft *d, const bpi_show *show, bp_errors *errs)
{
    size_t n = count_all(show, d->segment);
    if (n > BPI_MAX_BEATS)
        return bpi_error_f(errs, BP_ELIMIT, d->segment->where,
                           "write the beats, or show fewer steps of its recipes",
                           "there are %zu beats to choose from for this slot, at most %d can be", n,
                           BPI_MAX_BEATS);
    d->beat = BPI_TAKE(d->arena, n, bpi_beat);
    if (d->beat)
        add_all(d, show);
    return d->beat && !d->failed ? BP_OK : bpi_error_no_memory(errs);
}

static void put_bounds(bpi_fitted *f, const draft *d)
{
    for (uint32_t i = 0; i < d->n; i++) {
        int64_t spoken = bpi_words_time(d->beat[i].words, d->segment->pace);
        const bpi_length *t = &d->beat[i].time;
        f[i] = (bpi_fitted){.least = spoken > t->least ? spoken : t->least,
                            .most = spoken > t->most ? spoken : t->most};
    }
}

static bp_code unsure(const draft *d, bp_errors *errs)
{
    return bpi_error_add(errs, BP_EUNSURE, d->segment->where,
                         "no best draft of this slot was found", "write its beats");
}

static bp_code list(bpi_proposal *out, uint32_t *n, uint32_t most, const draft *d,
                    const bpi_show *show, const bpi_drafting *within, bp_errors *errs)
{
    bpi_fitted fitted[BPI_MAX_BEATS];
    put_bounds(fitted, d);
    const bpi_propose_ask ask = {.recipe = show->recipe,
                                 .segment = d->segment,
                                 .beat = d->beat,
                                 .fitted = fitted,
                                 .beats = d->n,
                                 .swaps = within->swaps,
                                 .burners = within->burners,
                                 .list = most};
    bp_code rc = bpi_propose(out, n, &ask);
    if (rc == BP_ENOMEM)
        return bpi_error_no_memory(errs);
    return rc == BP_EUNSURE ? unsure(d, errs) : rc;
}

bp_code bpi_draft_list(bpi_proposal *out, uint32_t *n, uint32_t most, const bpi_show *show,
                       const bpi_segment *segment, const bpi_drafting *within, bp_errors *errs)
{
    draft d = {.arena = bpi_arena_new(), .segment = segment};
    *n = 0;
    bp_code rc = d.arena ? put_all(&d, show, errs) : bpi_error_no_memory(errs);
    if (rc == BP_OK)
        rc = list(out, n, most, &d, show, within, errs);
    bpi_arena_free(d.arena);
    return rc;
}

/* The best of all that fill the slot; where none does, all there is. */
static bp_code choose(uint64_t *kept, const draft *d, bp_errors *errs)
{
    bpi_fitted fitted[BPI_MAX_BEATS];
    bpi_drop_beat choice[BPI_MAX_BEATS];
    put_bounds(fitted, d);
    for (uint32_t i = 0; i < d->n; i++)
        choice[i] = (bpi_drop_beat){.least = fitted[i].least,
                                    .most = fitted[i].most,
                                    .worth = d->beat[i].worth,
                                    .keep = d->beat[i].keep,
                                    .place = bpi_station_place(d->segment, &d->beat[i])};
    *kept = ~UINT64_C(0);
    bp_code rc = bpi_drop(kept, choice, d->n, d->segment->slot);
    if (rc == BP_ENOMEM)
        return bpi_error_no_memory(errs);
    return rc == BP_EUNSURE ? unsure(d, errs) : rc;
}

bp_code bpi_draft(const bpi_beat **out, uint32_t *beats, bpi_arena *a, const bpi_show *show,
                  const bpi_segment *segment, bp_errors *errs)
{
    draft d = {.arena = a, .segment = segment};
    bpi_proposal proposal[BPI_PROPOSE_MOST];
    uint64_t kept = 0;
    uint32_t n = 0, take = segment->draft.take;
    bp_code rc = put_all(&d, show, errs);
    if (rc == BP_OK)
        rc = choose(&kept, &d, errs);
    if (rc == BP_OK && segment->draft.stated) {
        rc = list(proposal, &n, take, &d, show, &segment->draft, errs);
        if (rc == BP_OK && n < take)
            rc = BP_ENOFIT;
        if (rc == BP_OK)
            kept = proposal[take - 1].kept;
        if (rc == BP_ENOFIT)
            return rc;
    }
    if (rc != BP_OK && rc != BP_ENOFIT)
        return rc;
    *beats = 0;
    for (uint32_t i = 0; i < d.n; i++)
        if (kept >> i & 1)
            d.beat[(*beats)++] = d.beat[i];
    *out = d.beat;
    return BP_OK;
}
