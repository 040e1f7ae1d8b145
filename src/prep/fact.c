#include "prep/fact.h"

#include "base/span.h"

static const bpi_kitchen *kitchen(const bpi_prep *p)
{
    return &p->show->kitchen;
}

static void clock_put(bpi_text *out, const bpi_prep *p, int64_t t)
{
    bpi_clock_put(out, &p->show->clock, t, 0);
}

static const char *plural(uint64_t n)
{
    return n == 1 ? "" : "s";
}

static int64_t rooms(const bpi_prep *p, uint32_t keep)
{
    int64_t n = 0;
    for (uint32_t i = 0; i < kitchen(p)->places; i++)
        if (kitchen(p)->place[i].keep == (bpi_keep)keep)
            n += kitchen(p)->place[i].count;
    return n;
}

/* One place, and what takes more than one position there: "cold shelf has 3 positions; a stock pot takes
 * 2, a crate 3". */
static void place_put(bpi_text *out, const bpi_prep *p, uint32_t place)
{
    const bpi_kitchen *k = kitchen(p);
    const char *before = "; a";
    bpi_text_f(out, "%s has %u position%s", k->place[place].name, (unsigned)k->place[place].count,
               plural(k->place[place].count));
    for (uint32_t t = 0; t < k->tools; t++) {
        if (k->tool[t].room < 2)
            continue;
        bpi_text_f(out, "%s %s takes %u", before, k->tool[t].name, (unsigned)k->tool[t].room);
        before = ", a";
    }
}

/* "Red lentil soup: after "Add lentils and stock, simmer"" */
static void after_put(bpi_text *out, const bpi_prep *p, const bpi_fact *f)
{
    const bpi_recipe *r = &p->show->recipe[f->a];
    if (f->b == BPI_NO_INDEX)
        bpi_text_f(out, "%s, measured raw,", r->title);
    else
        bpi_text_f(out, "%s, after \"%s\",", r->title, r->step[f->b].text);
}

static const char *in_place(uint32_t keep)
{
    static const char *const words[BPI_KEEPS] = {"on the counter", "hot", "cold"};
    return words[keep];
}

static int64_t hold_of(const bpi_prep *p, const bpi_fact *f)
{
    if (f->b == BPI_NO_INDEX)
        return BPI_MEASURE_HOLD;
    const bpi_step *s = &p->show->recipe[f->a].step[f->b];
    return f->kind == BPI_FACT_HOLD_SET ? s->hold_set : s->hold[f->c];
}

static void skilled_put(bpi_text *out, const bpi_prep *p, uint32_t skill)
{
    uint32_t n = 0;
    for (uint32_t i = 0; i < kitchen(p)->cooks; i++)
        for (uint32_t j = 0; j < kitchen(p)->cook[i].skills; j++)
            if (kitchen(p)->cook[i].skill[j] == skill)
                bpi_text_f(out, "%s%s", n++ ? " and " : "only ", kitchen(p)->cook[i].name);
    bpi_text_f(out, "%s the skill \"%s\"", n == 1 ? " has" : " have", p->show->skill[skill]);
}

static void tool_put(bpi_text *out, const bpi_tool *t, int64_t n)
{
    bpi_text_f(out, "%lld x %s", (long long)n, t->name);
    if (t->size[0])
        bpi_text_f(out, " (%s)", t->size);
}

static void set_by_put(bpi_text *out, const bpi_prep *p, const bpi_fact *f)
{
    const bpi_segment *s = &p->show->segment[f->a];
    const bpi_hit *hit = &s->hit[f->c];
    if (f->b == BPI_NO_INDEX)
        bpi_text_f(out, "the swap-outs of \"%s\" must stand on the set by ", s->title);
    else
        bpi_text_f(out, "the swap-outs of \"%s\" must stand on the set by ", s->dish[f->b].title);
    clock_put(out, p, f->at);
    bpi_text_put(out, " (hit ");
    clock_put(out, p, hit->at);
    bpi_text_put(out, ", lead ");
    bpi_span_words(out, f->b == BPI_NO_INDEX ? s->lead : s->dish[f->b].lead);
    bpi_text_char(out, ')');
}

static void window_put(bpi_text *out, const bpi_prep *p, const bpi_fact *f)
{
    const bpi_step *s = &p->show->recipe[f->a].step[f->b];
    bpi_text_f(out, "\"%s\" must come off after ", s->text);
    if (s->time.window) {
        bpi_span_words(out, s->time.least);
        bpi_text_put(out, " to ");
        bpi_span_words(out, s->time.most);
    } else
        bpi_span_words(out, s->time.likely);
    if (s->heat.mass_mg)
        bpi_text_put(out,
                     " for one whole recipe, as its \"heat\" works out, and of more or less in "
                     "proportion");
    else if (s->cool.in != BPI_COOL_NOT && s->cool.to_mC != BPI_NO_TEMP)
        bpi_text_put(out, ", as its \"cool\" works out");
    else if (s->together && s->together_each) {
        bpi_text_put(out, ", and ");
        bpi_span_words(out, s->together_each);
        bpi_text_put(out, " more for each further one");
    }
}

static bool watches(const bpi_prep *p, uint32_t cook)
{
    for (uint32_t r = 0; r < p->problem.resources; r++)
        if (p->res[r].kind == BPI_RES_SHIFT && p->res[r].a == cook)
            return p->problem.resource[r].capacity > 1;
    return false;
}

void bpi_fact_put(bpi_text *out, const bpi_prep *p, uint32_t fact)
{
    const bpi_fact *f = &p->fact[fact];
    const bpi_kitchen *k = kitchen(p);
    switch (f->kind) {
    case BPI_FACT_NONE:
        bpi_text_put(out, "the recipes and the running order themselves");
        break;
    case BPI_FACT_CALL:
        bpi_text_f(out, "%s can be called from ", k->cook[f->a].name);
        clock_put(out, p, k->cook[f->a].shift[f->b].call);
        break;
    case BPI_FACT_WRAP:
        bpi_text_f(out, "%s must be free at ", k->cook[f->a].name);
        clock_put(out, p, k->cook[f->a].shift[f->b].wrap);
        break;
    case BPI_FACT_REST:
        bpi_text_f(out, "%s has a break from ", k->cook[f->a].name);
        clock_put(out, p, k->cook[f->a].rest[f->b].from);
        bpi_text_put(out, " to ");
        clock_put(out, p, k->cook[f->a].rest[f->b].to);
        break;
    case BPI_FACT_COOK:
        bpi_text_f(out, "%s does one thing at a time%s", k->cook[f->a].name,
                   watches(p, f->a) ? ", and watches what leaves attention for it" : "");
        break;
    case BPI_FACT_SKILL:
        skilled_put(out, p, f->a);
        break;
    case BPI_FACT_BURNERS:
        bpi_text_f(out, "the kitchen has %u burner%s", (unsigned)k->burners, plural(k->burners));
        break;
    case BPI_FACT_POSITIONS:
        bpi_text_f(out, "%s takes %u load%s at once", k->oven[f->a].name,
                   (unsigned)k->oven[f->a].positions, plural(k->oven[f->a].positions));
        break;
    case BPI_FACT_CHANGE:
        bpi_text_f(out, "%s has one temperature at a time, and a change takes time",
                   k->oven[f->a].name);
        break;
    case BPI_FACT_PREHEAT:
        bpi_text_f(out, "%s has to be switched on and heated first", k->oven[f->a].name);
        break;
    case BPI_FACT_WARM_UP:
        bpi_text_f(out, "%s has to be switched on, and takes ", k->place[f->a].name);
        bpi_span_words(out, (int64_t)bpi_place_warms(&k->place[f->a]) * 60);
        bpi_text_put(out, " until it is hot");
        break;
    case BPI_FACT_IDLE:
        bpi_text_f(out, "%s may stand hot and empty for ", k->oven[f->a].name);
        bpi_span_words(out, k->oven[f->a].idle);
        break;
    case BPI_FACT_TOOL:
        bpi_text_put(out, "the kitchen has ");
        tool_put(out, &k->tool[f->a], k->tool[f->a].count);
        break;
    case BPI_FACT_WASH:
        bpi_text_f(out, "a %s is washed before it is used again, in ", k->tool[f->a].name);
        bpi_span_words(out, k->tool[f->a].wash);
        if (k->tool[f->a].wash_at != BPI_NO_INDEX)
            bpi_text_f(out, " (%s)", k->tool[k->tool[f->a].wash_at].name);
        break;
    case BPI_FACT_PLACE:
        if (f->b)
            place_put(out, p, f->b - 1);
        else if (rooms(p, f->a) == 0)
            bpi_text_f(out, "there is no place to keep anything %s", in_place(f->a));
        else
            bpi_text_f(out, "there is room for %lld container%s %s", (long long)rooms(p, f->a),
                       plural((uint64_t)rooms(p, f->a)), in_place(f->a));
        break;
    case BPI_FACT_CIRCUIT: {
        const bpi_circuit *c = &k->circuit[f->a];
        bpi_text_f(out, "circuit %s carries %u A at %u V, %u W", c->name, (unsigned)c->amperes,
                   (unsigned)c->volts, (unsigned)bpi_circuit_watts(c));
        break;
    }
    case BPI_FACT_HOLD:
        after_put(out, p, f);
        bpi_text_put(out, " keeps ");
        bpi_span_words(out, hold_of(p, f));
        bpi_text_f(out, " %s", in_place(f->c));
        break;
    case BPI_FACT_NO_HOLD:
        after_put(out, p, f);
        bpi_text_put(out, " may not wait anywhere");
        break;
    case BPI_FACT_HOLD_SET:
        after_put(out, p, f);
        bpi_text_put(out, " keeps ");
        bpi_span_words(out, hold_of(p, f));
        bpi_text_put(out, " on the set");
        break;
    case BPI_FACT_WINDOW:
        window_put(out, p, f);
        break;
    case BPI_FACT_SET_BY:
        set_by_put(out, p, f);
        break;
    case BPI_FACT_HELP: {
        const bpi_step *s = &p->show->recipe[f->a].step[f->b];
        bpi_text_f(out, "\"%s\" takes two cooks at once", s->text);
        if (s->help_skill != BPI_NO_INDEX)
            bpi_text_f(out, ", the second with the skill \"%s\"", p->show->skill[s->help_skill]);
        break;
    }
    case BPI_FACT_RESET:
        bpi_text_f(out, "after \"%s\" the set has to be cleared, which takes ",
                   p->show->segment[f->a].title);
        bpi_span_words(out, p->show->segment[f->a].reset);
        break;
    case BPI_FACT_HANDS:
        bpi_text_f(out, "%u cook%s stand%s by on the set for \"%s\"",
                   (unsigned)p->show->segment[f->a].hands, plural(p->show->segment[f->a].hands),
                   p->show->segment[f->a].hands == 1 ? "s" : "", p->show->segment[f->a].title);
        break;
    case BPI_FACT_FLOAT:
        bpi_text_f(out, "\"%s\" may come ", p->show->segment[f->a].title);
        bpi_span_words(out, p->show->segment[f->a].floats);
        bpi_text_put(out, " later than its hit");
        break;
    case BPI_FACT_DRESS:
        bpi_text_f(out,
                   "the set of \"%s\" is dressed in this order: ", p->show->segment[f->a].title);
        bpi_segment_put_dress(out, &p->show->segment[f->a]);
        break;
    }
}

/* Nobody dresses a dish in no time: no change asks for less. */
#define LEAST_LEAD 120 /* s */

static int64_t lead_of(const bpi_prep *p, const bpi_fact *f)
{
    const bpi_segment *g = &p->show->segment[f->a];
    return f->b == BPI_NO_INDEX ? g->lead : g->dish[f->b].lead;
}

bpi_ease bpi_fact_ease(bpi_fact_kind kind)
{
    switch (kind) {
    case BPI_FACT_CALL:
    case BPI_FACT_WRAP:
    case BPI_FACT_IDLE:
    case BPI_FACT_HOLD:
    case BPI_FACT_HOLD_SET:
    case BPI_FACT_NO_HOLD:
    case BPI_FACT_WINDOW:
    case BPI_FACT_SET_BY:
    case BPI_FACT_FLOAT:
    case BPI_FACT_DRESS:
        return BPI_EASE_MINUTES;
    case BPI_FACT_HANDS:
    case BPI_FACT_BURNERS:
    case BPI_FACT_POSITIONS:
    case BPI_FACT_TOOL:
    case BPI_FACT_PLACE:
    case BPI_FACT_CIRCUIT:
        return BPI_EASE_PIECES;
    default:
        return BPI_EASE_NOT;
    }
}

int bpi_fact_trouble(bpi_fact_kind kind)
{
    switch (kind) {
    case BPI_FACT_CALL:
    case BPI_FACT_WRAP:
        return 0;
    case BPI_FACT_BURNERS:
    case BPI_FACT_TOOL:
    case BPI_FACT_PLACE:
        return 1;
    case BPI_FACT_HANDS:
    case BPI_FACT_IDLE:
    case BPI_FACT_SET_BY:
    case BPI_FACT_FLOAT:
    case BPI_FACT_DRESS:
        return 2;
    case BPI_FACT_POSITIONS:
    case BPI_FACT_CIRCUIT:
        return 3;
    case BPI_FACT_WINDOW:
        return 4;
    default: /* how long food keeps */
        return BPI_FACT_TROUBLES - 1;
    }
}

int32_t bpi_fact_most(const bpi_prep *p, uint32_t fact)
{
    const bpi_fact *f = &p->fact[fact];
    const int32_t margin = BPI_PREP_MARGIN / 60;
    const bpi_cook *cook = kitchen(p)->cook;
    switch (f->kind) {
    case BPI_FACT_CALL:
        if (f->b > 0) {
            int32_t gap =
                bpi_minutes_down(cook[f->a].shift[f->b].call - cook[f->a].shift[f->b - 1].wrap);
            return gap < margin ? gap : margin;
        }
        return margin;
    case BPI_FACT_WRAP:
        if (f->b + 1 < cook[f->a].shifts) {
            int32_t gap =
                bpi_minutes_down(cook[f->a].shift[f->b + 1].call - cook[f->a].shift[f->b].wrap);
            return gap < margin ? gap : margin;
        }
        return margin;
    case BPI_FACT_HOLD:
    case BPI_FACT_HOLD_SET:
    case BPI_FACT_NO_HOLD:
        return f->b == BPI_NO_INDEX ? 0 : 240; /* of what is measured nothing is written */
    case BPI_FACT_IDLE:
        return 120;
    case BPI_FACT_WINDOW:
        return 30;
    case BPI_FACT_SET_BY:
        return lead_of(p, f) > LEAST_LEAD ? bpi_minutes_down(lead_of(p, f) - LEAST_LEAD) : 0;
    case BPI_FACT_HANDS:
        return (int32_t)p->show->segment[f->a].hands;
    case BPI_FACT_FLOAT:
        return bpi_minutes_up(p->show->segment[f->a].floats);
    case BPI_FACT_DRESS: /* none is left of it */
        return margin;
    case BPI_FACT_BURNERS:
    case BPI_FACT_POSITIONS:
        return 4;
    case BPI_FACT_TOOL:
    case BPI_FACT_PLACE: /* one more for each container */
        return p->boxes > 4 ? (int32_t)p->boxes : 4;
    case BPI_FACT_CIRCUIT: /* watts of another like it */
        return (int32_t)bpi_circuit_watts(&kitchen(p)->circuit[f->a]);
    default:
        return 0;
    }
}

void bpi_fact_put_change(bpi_text *out, const bpi_prep *p, uint32_t fact, int32_t by)
{
    const bpi_fact *f = &p->fact[fact];
    const bpi_kitchen *k = kitchen(p);
    int64_t s = (int64_t)by * 60;
    switch (f->kind) {
    case BPI_FACT_CALL:
        bpi_text_f(out, "call %s at ", k->cook[f->a].name);
        clock_put(out, p, k->cook[f->a].shift[f->b].call - s);
        break;
    case BPI_FACT_WRAP:
        bpi_text_f(out, "keep %s until ", k->cook[f->a].name);
        clock_put(out, p, k->cook[f->a].shift[f->b].wrap + s);
        break;
    case BPI_FACT_IDLE:
        bpi_text_f(out, "let %s stand hot and empty for ", k->oven[f->a].name);
        bpi_span_words(out, k->oven[f->a].idle + s);
        break;
    case BPI_FACT_HOLD:
        after_put(out, p, f);
        bpi_text_put(out, " would have to keep ");
        bpi_span_words(out, hold_of(p, f) + s);
        bpi_text_f(out, " %s", in_place(f->c));
        break;
    case BPI_FACT_HOLD_SET:
        after_put(out, p, f);
        bpi_text_put(out, " would have to keep ");
        bpi_span_words(out, hold_of(p, f) + s);
        bpi_text_put(out, " on the set");
        break;
    case BPI_FACT_NO_HOLD:
        after_put(out, p, f);
        bpi_text_put(out, " would have to keep ");
        bpi_span_words(out, s);
        bpi_text_put(out, " on the counter");
        break;
    case BPI_FACT_WINDOW:
        bpi_text_f(out, "leave \"%s\" on up to ", p->show->recipe[f->a].step[f->b].text);
        bpi_span_words(out, s);
        bpi_text_put(out, " longer");
        break;
    case BPI_FACT_SET_BY: {
        const bpi_segment *g = &p->show->segment[f->a];
        bpi_text_f(out, "dress \"%s\" in ", f->b != BPI_NO_INDEX ? g->dish[f->b].title : g->title);
        bpi_span_words(out, lead_of(p, f) - s);
        break;
    }
    case BPI_FACT_HANDS: {
        const bpi_segment *g = &p->show->segment[f->a];
        uint32_t hands = g->hands - (uint32_t)by;
        if (hands)
            bpi_text_f(out, "let only %u cook%s stand by on the set for \"%s\"", (unsigned)hands,
                       plural(hands), g->title);
        else
            bpi_text_f(out, "let no cook stand by on the set for \"%s\"", g->title);
        break;
    }
    case BPI_FACT_FLOAT: {
        const bpi_segment *g = &p->show->segment[f->a];
        bpi_text_f(out, "let \"%s\" come ", g->title);
        if (g->floats > s) {
            bpi_text_put(out, "at most ");
            bpi_span_words(out, g->floats - s);
            bpi_text_put(out, " later than its hit");
        } else
            bpi_text_put(out, "no later than its hit");
        break;
    }
    case BPI_FACT_DRESS: /* however many minutes of it were in the way */
        bpi_text_f(out, "dress \"%s\" in any order", p->show->segment[f->a].title);
        break;
    case BPI_FACT_BURNERS:
        bpi_text_f(out, "have %u burners", (unsigned)k->burners + (unsigned)by);
        break;
    case BPI_FACT_POSITIONS:
        bpi_text_f(out, "%s would have to take %u loads at once", k->oven[f->a].name,
                   (unsigned)k->oven[f->a].positions + (unsigned)by);
        break;
    case BPI_FACT_TOOL:
        bpi_text_put(out, "have ");
        tool_put(out, &k->tool[f->a], (int64_t)k->tool[f->a].count + by);
        break;
    case BPI_FACT_PLACE:
        if (f->b) {
            const bpi_place *place = &k->place[f->b - 1];
            bpi_text_f(out, "have %u positions in %s", (unsigned)place->count + (unsigned)by,
                       place->name);
            break;
        }
        bpi_text_f(out, "have room for %lld container%s %s", (long long)rooms(p, f->a) + by,
                   plural((uint64_t)(rooms(p, f->a) + by)), in_place(f->a));
        break;
    case BPI_FACT_CIRCUIT:
        bpi_text_f(out, "circuit %s would have to carry %u W (ask the electrician)",
                   k->circuit[f->a].name, bpi_circuit_watts(&k->circuit[f->a]) + (unsigned)by);
        break;
    default:
        break;
    }
}
