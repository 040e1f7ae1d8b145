/* src/plan/verify_air.c - appearances and their beats: times, bounds, what was dropped. */
#include <string.h>

#include "plan/verify.h"

/* Pieces between blanks that hold a letter or a digit: never more than the words said. */
static int64_t pieces(const char *words)
{
    int64_t n = 0;
    bool counted = false;
    for (const unsigned char *c = (const unsigned char *)words; *c; c++) {
        bool blank = *c == ' ' || *c == '\n' || *c == '\t';
        bool sound =
            (*c >= '0' && *c <= '9') || (*c >= 'A' && *c <= 'Z') || (*c >= 'a' && *c <= 'z');
        if (sound && !counted)
            n++;
        counted = !blank && (counted || sound);
    }
    return n;
}

static void test_head(bpi_verify *v, uint32_t i)
{
    const bp_air *a = &v->plan->air[i];
    const bpi_segment *g = &v->show->segment[v->segment[i]];
    uint32_t eaters = g->hosts + g->tasters;
    if (a->slot != g->slot)
        bpi_object(v, a->id, "the slot is not that of the show");
    if (a->floats != g->floats)
        bpi_object(v, a->id, "how much later it may come is not that of the show");
    if (a->set_by != a->hit - g->lead)
        bpi_object(v, a->id, "set-by is not the hit less the lead");
    if (a->pace != g->pace)
        bpi_object(v, a->id, "its pace is not that of the show");
    if (a->portions != (eaters ? eaters + 1 : 0))
        bpi_object(v, a->id, "%u portions for %u who eat", a->portions, eaters);
    if (a->hit_no != v->hit[i] + 1 || a->hits != g->hits)
        bpi_object(v, a->id, "hit %u of %u is miscounted", a->hit_no, a->hits);
    if (a->rehearsal != g->rehearsal)
        bpi_object(v, a->id, "it is a rehearsal in one of show and plan");
    static const char called[] = "Rehearsal: ";
    bool named = !g->rehearsal || strncmp(a->title, called, sizeof called - 1) == 0;
    if (!named || strcmp(a->title + (g->rehearsal ? sizeof called - 1 : 0), g->title) != 0)
        bpi_object(v, a->id, "its title is not that of the show");
    if (a->drafted != (g->beats == 0))
        bpi_object(v, a->id, "drafted does not tell whether the show names beats");
    if (i > 0 && v->plan->air[i - 1].hit > a->hit)
        bpi_object(v, a->id, "appearances are not by hit time");
}

static void test_times(bpi_verify *v, uint32_t i)
{
    const bp_air *a = &v->plan->air[i];
    int64_t at = a->hit;
    for (uint32_t k = 0; k < a->beats.n; k++) {
        const bp_beat *b = &v->plan->beat[a->beats.first + k];
        if (b->least < 0 || b->least > b->likely || b->likely > b->most)
            bpi_object(v, b->id, "least, likely and most are not in order");
        if (b->spoken < 0 || b->spoken > b->least || (b->spoken > 0 && !*b->words))
            bpi_object(v, b->id, "how long its words take to say is told wrong");
        if (b->dropped) {
            if (b->from || b->length || b->in.n || b->out.n || b->on.n)
                bpi_object(v, b->id, "it is dropped and yet has time or containers");
            continue;
        }
        if (b->from != at)
            bpi_object(v, b->id, "it does not start where the beat before ends");
        if (b->length < b->least + b->walk || b->length > b->most + b->walk)
            bpi_object(v, b->id, "its length is not between least and most, and the walk to it");
        if (b->time_in != b->from - a->hit)
            bpi_object(v, b->id, "time in is wrong");
        if (b->time_left != bpi_slot_end(v, i) - b->from - b->length)
            bpi_object(v, b->id, "time left is wrong");
        at = b->from + b->length;
    }
    if (at != bpi_slot_end(v, i))
        bpi_object(v, a->id, "the beats do not fill the slot exactly");
}

static int64_t larger(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

/* Bounds of a beat against what was written; words raise all three alike. */
static void test_bounds(bpi_verify *v, const bp_beat *b, const bpi_length *time, const char *words,
                        uint32_t pace)
{
    int64_t spoken = (pieces(words) * 60 + pace - 1) / pace;
    if (strcmp(b->words, words) != 0)
        bpi_object(v, b->id, "its words are not those of the show");
    if (b->spoken < spoken)
        bpi_object(v, b->id, "its words take longer to say");
    if (b->words_floor && b->least != b->spoken)
        bpi_object(v, b->id, "its words set its least, which is not how long they take");
    if (b->least < larger(time->least, spoken))
        bpi_object(v, b->id, "its least is less than it takes");
    if (b->words_floor != (b->least > time->least) || (b->words_floor && pieces(words) == 0))
        bpi_object(v, b->id, "whether words set its least is told wrong");
    if (b->likely != larger(time->likely, b->least) || b->most != larger(time->most, b->least))
        bpi_object(v, b->id, "its likely or most is not that of the show");
}

static uint64_t before(const bpi_recipe *r, const bpi_beat *b)
{
    uint64_t does = 0, steps = 0;
    for (uint32_t i = 0; i < b->does_n; i++) {
        does |= UINT64_C(1) << b->does[i];
        steps |= r->step[b->does[i]].before_all;
    }
    steps &= ~does;
    for (uint32_t s = 0; s < r->steps; s++)
        if (r->step[s].before_all & does)
            steps &= ~(UINT64_C(1) << s);
    return steps;
}

/* What a beat hangs on: all that the show says; beside it only what brings its dish to it, and so
 * comes before it; and of a beat that is on air, nothing that is left out. */
static void test_needs(bpi_verify *v, uint32_t air, uint32_t k, uint64_t written)
{
    const bp_air *a = &v->plan->air[air];
    const bp_beat *b = &v->plan->beat[a->beats.first + k];
    if ((written & ~b->needs) || (b->needs >> k & 1))
        bpi_object(v, b->id, "what it needs is not what the show says");
    for (uint32_t j = 0; j < a->beats.n; j++) {
        if (!(b->needs >> j & 1))
            continue;
        if (j >= k && !(written >> j & 1))
            bpi_object(v, b->id, "it needs a later beat, which the show does not say");
        if (!b->dropped && v->plan->beat[a->beats.first + j].dropped)
            bpi_object(v, b->id, "it needs a beat that is dropped");
    }
    if (!b->dropped && !b->ready)
        bpi_object(v, b->id, "it is on air and yet not ready");
}

/* What stands beside a beat is the beauty of each such dish. */
static void test_beside(bpi_verify *v, uint32_t air, uint32_t k, const bpi_beat *s)
{
    const bp_plan *p = v->plan;
    const bp_beat *b = &p->beat[p->air[air].beats.first + k];
    for (uint32_t d = 0; d < s->besides && !b->dropped; d++) {
        bool stands = false;
        for (uint32_t i = 0; i < b->on.n; i++) {
            uint32_t c = p->index[b->on.first + i];
            stands |= p->container[c].role == BP_ROLE_BEAUTY && v->dish[c] == s->beside[d];
        }
        if (!stands)
            bpi_object(v, b->id, "the finished %s does not stand beside it",
                       v->show->segment[v->segment[air]].dish[s->beside[d]].id);
    }
}

static void want_of(const bpi_verify *v, const bpi_segment *g, const bpi_beat *b, bpi_want *w)
{
    w->dish = b->dish;
    w->does = b->does;
    w->does_n = b->does_n;
    if (b->dish == BPI_NO_INDEX || b->shows == BPI_SHOWS_NOTHING)
        return;
    const bpi_recipe *r = &v->show->recipe[g->dish[b->dish].recipe];
    w->state = true;
    if (b->shows == BPI_SHOWS_FINISHED)
        w->steps = r->all;
    else if (b->shows == BPI_SHOWS_AFTER)
        w->steps = r->step[b->after].before_all | UINT64_C(1) << b->after;
    else if (b->shows == BPI_SHOWS_STEPS)
        w->steps = before(r, b);
}

static void test_written(bpi_verify *v, uint32_t i)
{
    const bp_air *a = &v->plan->air[i];
    const bpi_segment *g = &v->show->segment[v->segment[i]];
    if (a->beats.n != g->beats) {
        bpi_object(v, a->id, "%u beats are planned, the show has %u", a->beats.n, g->beats);
        return;
    }
    for (uint32_t k = 0; k < g->beats; k++) {
        const bp_beat *b = &v->plan->beat[a->beats.first + k];
        const bpi_beat *s = &g->beat[k];
        if (strcmp(b->id, s->id) != 0)
            bpi_object(v, b->id, "beat %s of the show should stand here", s->id);
        test_bounds(v, b, &s->time, s->words, g->pace);
        if (b->taste != s->taste)
            bpi_object(v, b->id, "whether it is a tasting is told wrong");
        if (b->dish != BP_NO_INDEX && (s->dish == BPI_NO_INDEX ||
                                       strcmp(v->plan->dish[b->dish].id, g->dish[s->dish].id) != 0))
            bpi_object(v, b->id, "its dish is not that of the show");
        if (b->keep != s->keep || b->worth != s->worth)
            bpi_object(v, b->id, "its worth, or whether it must stay, is not that of the show");
        test_needs(v, i, k, s->needs);
        test_beside(v, i, k, s);
        if (b->dropped && s->keep)
            bpi_object(v, b->id, "it must stay and is dropped");
        for (uint32_t j = 0; j < g->beats; j++)
            if (!b->dropped && (s->needs >> j & 1) && v->plan->beat[a->beats.first + j].dropped)
                bpi_object(v, b->id, "it needs beat %s, which is dropped", g->beat[j].id);
        want_of(v, g, s, &v->want[a->beats.first + k]);
    }
}

static int32_t worth_of(const bpi_verify *v, const bpi_segment *g, const bpi_want *w)
{
    return v->show->recipe[g->dish[w->dish].recipe].step[w->does[0]].air_worth;
}

/* Containers of this appearance that are on a burner while beat k is on air: the beat does such a step
 * with it, or a beat before left it to such a step, which was not over by its least length, and no
 * beat has taken it up since. */
static uint32_t on_burners(const bpi_verify *v, uint32_t air, uint32_t k)
{
    const bp_plan *p = v->plan;
    uint32_t n = 0;
    for (uint32_t c = 0; c < p->containers; c++) {
        uint32_t last = k + 1;
        while (last > 0 && !bpi_among(p, p->beat[p->air[air].beats.first + last - 1].on, c))
            last--;
        if (p->container[c].air != air || last == 0)
            continue;
        const bp_beat *b = &p->beat[p->air[air].beats.first + last - 1];
        const bpi_want *w = &v->want[p->air[air].beats.first + last - 1];
        if (w->does_n == 0)
            continue;
        const bpi_step *s = &v->recipe[c]->step[w->does[0]]; /* a draft does one a beat */
        int64_t time = s->time.uncertain ? s->time.likely : s->time.least;
        n += s->burner && (last == k + 1 || (s->kind != BPI_ACTIVE && time > b->least));
    }
    return n;
}

static void test_limits(bpi_verify *v, uint32_t i, const bpi_segment *g)
{
    const bp_plan *p = v->plan;
    uint32_t boxes = 0;
    for (uint32_t c = 0; c < p->containers; c++)
        boxes += p->container[c].air == i && p->container[c].role != BP_ROLE_TEASE;
    if (boxes > g->draft.swaps)
        bpi_object(v, p->air[i].id, "%u swap-outs stand on its set, at most %u may", boxes,
                   g->draft.swaps);
    for (uint32_t k = 0; k < p->air[i].beats.n; k++)
        if (on_burners(v, i, k) > g->draft.burners)
            bpi_object(v, p->air[i].id, "more than %u burners are in use on its set",
                       g->draft.burners);
}

/* A drafted beat tells by its id what it is: DISH.STEP, DISH.finished, or one of no dish. */
static bool test_drafted(bpi_verify *v, uint32_t i)
{
    const bp_air *a = &v->plan->air[i];
    const bpi_segment *g = &v->show->segment[v->segment[i]];
    uint32_t finished = 0, talk = 0, tastes = 0;
    for (uint32_t k = 0; k < a->beats.n; k++) {
        const bp_beat *b = &v->plan->beat[a->beats.first + k];
        bpi_want *w = &v->want[a->beats.first + k];
        w->dish = BPI_NO_INDEX;
        if (b->dropped)
            bpi_object(v, b->id, "a draft drops nothing");
        test_needs(v, i, k, 0);
        for (uint32_t d = 0; d < g->dishes; d++) {
            const bpi_recipe *r = &v->show->recipe[g->dish[d].recipe];
            size_t len = strlen(g->dish[d].id);
            if (strncmp(b->id, g->dish[d].id, len) != 0 || b->id[len] != '.')
                continue;
            for (uint32_t s = 0; s < r->steps; s++) {
                if (strcmp(b->id + len + 1, r->step[s].id) != 0 || !r->step[s].shown)
                    continue;
                uint32_t *does = BPI_TAKE(v->arena, 1, uint32_t);
                if (!does)
                    return false;
                *does = s;
                *w = (bpi_want){true, d, r->step[s].before_all, does, 1};
                test_bounds(v, b, &r->step[s].air_time, r->step[s].air_words, g->pace);
            }
            if (!w->state && strcmp(b->id + len + 1, "finished") == 0) {
                *w = (bpi_want){true, d, r->all, NULL, 0};
                finished++;
            }
        }
        if (b->keep != (w->does_n == 0) || (w->does_n && b->worth != worth_of(v, g, w)))
            bpi_object(v, b->id, "its worth, or whether it must stay, is not that of a draft");
        talk += !w->state;
        tastes += b->taste;
        if ((!w->state || w->does_n == 0) && (b->words[0] || b->words_floor))
            bpi_object(v, b->id, "a draft has no words for it");
    }
    if (g->draft.stated)
        test_limits(v, i, g);
    if (finished != g->dishes)
        bpi_object(v, a->id, "the draft does not show each dish finished once");
    if (talk != 2u + (a->portions > 0) || tastes != (a->portions > 0 ? 1u : 0u))
        bpi_object(v, a->id, "the draft does not open, taste and close");
    return true;
}

bool bpi_verify_air(bpi_verify *v)
{
    for (uint32_t i = 0; i < v->plan->airs; i++) {
        test_head(v, i);
        test_times(v, i);
        if (!v->plan->air[i].drafted)
            test_written(v, i);
        else if (!test_drafted(v, i))
            return false;
    }
    return true;
}
