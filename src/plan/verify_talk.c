/* src/plan/verify_talk.c - lines on the screen, claims and answers against the show.
 *
 * Claims are judged anew from the words of the thresholds, in floating point: nothing here decides a
 * plan, and a figure within a millionth of its threshold is not objected to.
 */
#include <string.h>

#include "plan/verify.h"

#define NEAR 1e-6

/* ---- claims ------------------------------------------------------------------------------ */

/* What a figure comes to, and how sure it is: above 0 holds, below 0 does not; 0 is too near to tell. */
typedef struct finding {
    bool known;
    double margin;
} finding;

static double amount(const bpi_nutrition *n, int of)
{
    return n->amount[of] < 0 ? -1 : (double)n->amount[of];
}

/* In the reference amount, or in 100 g of a meal; below 0: not known. */
static double in_reference(const bpi_nutrition *n, int of)
{
    double base = n->meal ? 1000 : (double)n->reference;
    if (n->amount[of] < 0 || n->serving < 0 || base < 0)
        return -1;
    return amount(n, of) / (double)n->serving * base;
}

static finding at_most(double value, double limit)
{
    return (finding){value >= 0, (limit - value) / limit};
}

static finding at_least(double value, double limit)
{
    return (finding){value >= 0, (value - limit) / limit};
}

/* Both, and one that fails is enough to know. */
static finding both(finding a, finding b)
{
    if (a.known && a.margin < -NEAR)
        return a;
    if (b.known && b.margin < -NEAR)
        return b;
    return (finding){a.known && b.known, a.margin < b.margin ? a.margin : b.margin};
}

static finding low(const bpi_nutrition *n, int of, double limit, bool small_too)
{
    finding f = at_most(in_reference(n, of), limit);
    if (small_too && !n->meal && n->reference > 0 && n->reference <= 300 && n->serving > 0)
        f = both(f,
                 at_most(amount(n, of) < 0 ? -1 : amount(n, of) / (double)n->serving * 500, limit));
    return f;
}

static finding below(const bpi_nutrition *n, int of, double limit)
{
    finding f = {n->amount[of] >= 0, amount(n, of) < limit ? 1 : -1};
    return n->meal ? f : both(f, at_most(in_reference(n, of), limit));
}

static finding less(const bpi_claim *c, const bpi_nutrition *n, int of, double part)
{
    const bpi_nutrition *o = &c->than_of;
    if (!c->than[0] || n->amount[of] < 0 || o->amount[of] < 0 || n->serving < 0 || o->serving < 0)
        return (finding){false, 0};
    double here = amount(n, of) / (double)n->serving, there = amount(o, of) / (double)o->serving;
    return (finding){true, there > 0 ? (there * (1 - part) - here) / there : here > 0 ? -1 : 0};
}

static finding share(const bpi_nutrition *n, int of, double limit)
{
    double fat = amount(n, of) * 9e-9, energy = amount(n, BPI_ENERGY) / 1000;
    if (fat < 0 || energy < 0)
        return (finding){false, 0};
    return (finding){true, energy > 0 ? limit - fat / energy : fat > 0 ? -1 : 0};
}

static finding light(const bpi_claim *c, const bpi_nutrition *n)
{
    finding fat = less(c, n, BPI_FAT, 0.5), energy = less(c, n, BPI_ENERGY, 1.0 / 3);
    if (!fat.known || !energy.known)
        return (finding){false, 0};
    double lean = share(n, BPI_FAT, 0.5).margin;
    if (lean < NEAR && lean > -NEAR && fat.margin < 0)
        return (finding){true, 0};
    if (lean <= 0 || fat.margin > energy.margin)
        return fat;
    return energy;
}

static finding daily(const bpi_claim *c, const bpi_nutrition *n)
{
    double value = (double)bpi_nutrients[c->of].daily, here = in_reference(n, c->of);
    if (value <= 0 || n->meal)
        return (finding){false, 0};
    if (c->says == BPI_SAYS_HIGH)
        return at_least(here, 0.2 * value);
    if (c->says == BPI_SAYS_GOOD)
        return both(at_least(here, 0.1 * value), at_most(here, 0.19 * value));
    if (!less(c, n, c->of, 0).known || here < 0)
        return (finding){false, 0};
    double there = amount(&c->than_of, c->of) / (double)c->than_of.serving * (double)n->reference;
    return (finding){true, (here - there - 0.1 * value) / value};
}

static finding lows(const bpi_claim *c, const bpi_nutrition *n)
{
    switch (c->of) {
    case BPI_ENERGY:
        return low(n, c->of, n->meal ? 120e3 : 40e3, true);
    case BPI_SODIUM:
        return low(n, c->of, c->says == BPI_SAYS_LOW ? 140e6 : 35e6, true);
    case BPI_FAT:
        return n->meal ? both(low(n, c->of, 3e9, true), share(n, c->of, 0.3))
                       : low(n, c->of, 3e9, true);
    case BPI_SATURATED_FAT:
        return both(low(n, c->of, 1e9, false), share(n, c->of, n->meal ? 0.1 : 0.15));
    case BPI_CHOLESTEROL:
        return n->meal ? (finding){false, 0}
                       : both(low(n, c->of, 20e6, false), low(n, BPI_SATURATED_FAT, 2e9, false));
    default:
        return (finding){false, 0};
    }
}

static finding frees(const bpi_claim *c, const bpi_nutrition *n)
{
    switch (c->of) {
    case BPI_ENERGY:
        return below(n, c->of, 5e3);
    case BPI_SODIUM:
        return below(n, c->of, 5e6);
    case BPI_SUGARS:
    case BPI_FAT:
        return below(n, c->of, 0.5e9);
    case BPI_SATURATED_FAT:
        return both(below(n, c->of, 0.5e9), below(n, BPI_TRANS_FAT, 0.5e9));
    case BPI_CHOLESTEROL:
        return n->meal ? below(n, c->of, 2e6)
                       : both(below(n, c->of, 2e6), low(n, BPI_SATURATED_FAT, 2e9, false));
    default:
        return (finding){false, 0};
    }
}

static bool is_reducible(int of)
{
    return of == BPI_ENERGY || of == BPI_SUGARS || of == BPI_SODIUM || of == BPI_FAT ||
           of == BPI_CHOLESTEROL;
}

static finding judge(const bpi_claim *c, const bpi_nutrition *n)
{
    const finding none = {false, 0};
    switch ((bpi_says)c->says) {
    case BPI_SAYS_LIGHT:
        if (c->of == BPI_SODIUM)
            return less(c, n, c->of, 0.5);
        return c->of == BPI_ENERGY && !n->meal ? light(c, n) : none;
    case BPI_SAYS_FREE:
        return frees(c, n);
    case BPI_SAYS_VERY_LOW:
        return c->of == BPI_SODIUM ? lows(c, n) : none;
    case BPI_SAYS_LOW:
        return lows(c, n);
    case BPI_SAYS_REDUCED:
        return is_reducible(c->of) ? less(c, n, c->of, 0.25) : none;
    case BPI_SAYS_HIGH:
    case BPI_SAYS_GOOD:
    case BPI_SAYS_MORE:
        break;
    }
    return daily(c, n);
}

static void test_claim(bpi_verify *v, const bp_claim *p, const bpi_segment *g, const bpi_claim *c)
{
    const bp_beat *b = &v->plan->beat[p->beat];
    finding f = judge(c, &v->show->recipe[g->dish[c->dish].recipe].nutrition);
    bool near = f.margin < NEAR && f.margin > -NEAR;
    if (!strstr(p->text, c->said) ||
        (c->of != BPI_ENERGY && !strstr(p->text, bpi_nutrients[c->of].name)) ||
        strcmp(p->dish, g->dish[c->dish].title) != 0)
        bpi_object(v, b->id, "a claim is not that of the show");
    if (f.known != (p->holds != BP_UNSURE))
        bpi_object(v, b->id, "whether \"%s\" can be told is told wrong", p->text);
    else if (f.known && !near && (p->holds == BP_YES) != (f.margin > 0))
        bpi_object(v, b->id, "whether \"%s\" holds is told wrong", p->text);
    if (p->holds != BP_UNSURE && (!p->rule[0] || !p->figure[0]))
        bpi_object(v, b->id, "\"%s\" is judged without a rule or a figure", p->text);
}

/* ---- lines and answers ------------------------------------------------------------------- */

static void test_lines(bpi_verify *v, const bp_beat *b, const bpi_segment *g, const bpi_beat *s)
{
    const bp_line *line = &v->plan->line[b->lines.first];
    uint32_t supers = 0, n = 0;
    for (uint32_t i = 0; s->supers && i < s->does_n; i++)
        supers += v->show->recipe[g->dish[s->dish].recipe].step[s->does[i]].ingredients;
    if (b->lines.n != s->graphics + supers) {
        bpi_object(v, b->id, "its lines on the screen are not those of the show");
        return;
    }
    for (; n < s->graphics; n++)
        if (line[n].kind != BP_LINE_GRAPHIC || strcmp(line[n].text, s->graphic[n]) != 0)
            bpi_object(v, b->id, "a graphic is not that of the show");
    for (uint32_t i = 0; supers && i < s->does_n; i++) {
        const bpi_step *step = &v->show->recipe[g->dish[s->dish].recipe].step[s->does[i]];
        for (uint32_t k = 0; k < step->ingredients; k++, n++)
            if (line[n].kind != BP_LINE_SUPER || !strstr(line[n].text, step->ingredient[k].item))
                bpi_object(v, b->id, "%s is not among the supers", step->ingredient[k].item);
    }
    for (n = 0; n < b->lines.n; n++)
        if (line[n].up < 3)
            bpi_object(v, b->id, "nobody can read a line so fast");
}

static void test_replies(bpi_verify *v, uint32_t air, const bpi_answer *answer, uint32_t n,
                         const char *dish, uint32_t *at)
{
    const bp_plan *p = v->plan;
    for (uint32_t i = 0; i < n; i++, ++*at) {
        const bp_reply *r = *at < p->replies ? &p->reply[*at] : NULL;
        if (!r || r->air != air || strcmp(r->ask, answer[i].ask) != 0 ||
            strcmp(r->say, answer[i].say) != 0 || strcmp(r->dish, dish) != 0 || r->spoken < 0)
            bpi_object(v, p->air[air].id, "answer %u is not that of the show", *at + 1);
    }
}

void bpi_verify_talk(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    uint32_t claims = 0, replies = 0, lines = 0;
    for (uint32_t a = 0; a < p->airs; a++) {
        const bpi_segment *g = &v->show->segment[v->segment[a]];
        for (uint32_t k = 0; k < p->air[a].beats.n; k++) {
            uint32_t beat = p->air[a].beats.first + k;
            const bp_beat *b = &p->beat[beat];
            const bpi_beat silent = {0}, *s = k < g->beats ? &g->beat[k] : &silent;
            if (b->lines.first != lines || b->lines.n > p->lines - lines)
                bpi_object(v, b->id, "its lines on the screen are out of order");
            else
                test_lines(v, b, g, s);
            lines += b->lines.n;
            for (uint32_t i = 0; i < s->claims; i++, claims++)
                if (claims >= p->claims || p->claim[claims].beat != beat)
                    bpi_object(v, b->id, "a claim of the show is not judged");
                else
                    test_claim(v, &p->claim[claims], g, &s->claim[i]);
        }
        for (uint32_t d = 0; d < g->dishes; d++) {
            const bpi_recipe *r = &v->show->recipe[g->dish[d].recipe];
            test_replies(v, a, r->answer, r->answers, g->dish[d].title, &replies);
        }
        test_replies(v, a, g->answer, g->answers, "", &replies);
    }
    if (claims != p->claims || replies != p->replies || lines != p->lines)
        bpi_object(v, "plan", "it has lines, claims or answers that the show has not");
}
