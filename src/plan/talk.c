/* src/plan/talk.c - what is said and shown beside the cooking: lines, claims, answers.
 *
 * Owns     plan.line, plan.claim, plan.reply, and the lines of each beat.
 * May use  plan/fill, live/, safety/, goods/, model/, base/.
 */
#include <string.h>

#include "goods/entry.h"
#include "live/words.h"
#include "plan/fill.h"
#include "safety/claim.h"

/* A line stays up to be read twice by a slow reader, and for 3 s at least (twice, and 3 s: common
 * practice, no source). 200 words a minute is the low figure of the National Center for Voice and
 * Speech for silent reading, as quoted at lisabmarshall.com, 2014-01-23. */
#define READ_PACE  200
#define READ_TWICE 2
#define READ_LEAST 3

static int64_t up_of(const char *text)
{
    int64_t s = bpi_words_time(text, READ_PACE / READ_TWICE);
    return s < READ_LEAST ? READ_LEAST : s;
}

static const bpi_segment *segment_of(const bpi_fill *f, uint32_t air)
{
    return &f->show->segment[f->live->air[air].segment];
}

static const bpi_recipe *recipe_of(const bpi_fill *f, const bpi_segment *g, uint32_t dish)
{
    return &f->show->recipe[g->dish[dish].recipe];
}

/* ---- lines ------------------------------------------------------------------------------- */

static void add_line(bpi_fill *f, bp_line *line, bp_line_kind kind, const char *text)
{
    if (line) /* else only counted */
        line[f->plan->lines] = (bp_line){kind, text, up_of(text)};
    f->plan->lines++;
}

static void add_supers(bpi_fill *f, bp_line *line, const bpi_step *step)
{
    for (uint32_t i = 0; i < step->ingredients; i++) {
        bpi_text text = BPI_TEXT_EMPTY;
        bpi_entry_put(&text, &step->ingredient[i], (bpi_ratio){1, 1});
        add_line(f, line, BP_LINE_SUPER, bpi_fill_text(f, &text));
    }
}

static void add_lines(bpi_fill *f, bp_line *line, uint32_t air, bp_beat *out, uint32_t i)
{
    const bpi_beat *b = &f->live->air[air].beat[i];
    bp_slice lines = {f->plan->lines, 0};
    for (uint32_t k = 0; k < b->graphics; k++)
        add_line(f, line, BP_LINE_GRAPHIC, bpi_fill_copy(f, b->graphic[k]));
    for (uint32_t k = 0; b->supers && k < b->does_n; k++)
        add_supers(f, line, &recipe_of(f, segment_of(f, air), b->dish)->step[b->does[k]]);
    lines.n = f->plan->lines - lines.first;
    if (line)
        out->lines = lines;
}

/* ---- claims ------------------------------------------------------------------------------ */

/* As it is said: "good source of fiber", "sodium free", "light". */
static void put_phrase(bpi_text *out, const bpi_claim *c)
{
    const char *name = bpi_nutrients[c->of].name;
    switch ((bpi_says)c->says) {
    case BPI_SAYS_FREE:
        bpi_text_f(out, "%s %s", name, c->said);
        return;
    case BPI_SAYS_LIGHT:
        bpi_text_f(out, c->of == BPI_ENERGY ? "%s" : "%s in %s", c->said, name);
        return;
    case BPI_SAYS_HIGH:
    case BPI_SAYS_GOOD:
    case BPI_SAYS_MORE:
    case BPI_SAYS_VERY_LOW:
    case BPI_SAYS_LOW:
    case BPI_SAYS_REDUCED:
        break;
    }
    size_t n = strlen(c->said);
    bool source = n > 6 && strcmp(c->said + n - 6, "source") == 0;
    bpi_text_f(out, "%s%s %s", c->said,
               source                              ? " of"
               : strcmp(c->said, "fortified") == 0 ? " with"
                                                   : "",
               name);
}

static bp_claim judged(bpi_fill *f, const bpi_segment *g, const bpi_claim *c, uint32_t beat)
{
    bpi_text figure = BPI_TEXT_EMPTY, why = BPI_TEXT_EMPTY, text = BPI_TEXT_EMPTY,
             rule = BPI_TEXT_EMPTY;
    bpi_text_put(&figure, "");
    bpi_text_put(&rule, "");
    put_phrase(&text, c);
    bpi_claim_test t = bpi_claim_judge(c, &recipe_of(f, g, c->dish)->nutrition, &figure, &why);
    if (t.rule[0])
        bpi_text_f(&rule, "21 CFR %s", t.rule);
    return (bp_claim){.beat = beat,
                      .dish = bpi_fill_copy(f, g->dish[c->dish].title),
                      .text = bpi_fill_text(f, &text),
                      .figure = bpi_fill_text(f, &figure),
                      .holds = t.verdict,
                      .why = bpi_fill_text(f, &why),
                      .rule = bpi_fill_text(f, &rule)};
}

/* ---- answers ----------------------------------------------------------------------------- */

static void add_replies(bpi_fill *f, bp_reply *reply, uint32_t air, const char *dish,
                        const bpi_answer *answer, uint32_t n)
{
    static const char *const abouts[] = {[BPI_ABOUT_SUBSTITUTION] = "substitution",
                                         [BPI_ABOUT_STORAGE] = "storage",
                                         [BPI_ABOUT_COST] = "cost",
                                         [BPI_ABOUT_OTHER] = "other"};
    for (uint32_t i = 0; i < n; i++) {
        if (reply)
            reply[f->plan->replies] = (bp_reply){
                .air = air,
                .dish = bpi_fill_copy(f, dish),
                .about = abouts[answer[i].about],
                .ask = bpi_fill_copy(f, answer[i].ask),
                .say = bpi_fill_copy(f, answer[i].say),
                .spoken = bpi_words_time(answer[i].say, segment_of(f, air)->pace),
            };
        f->plan->replies++;
    }
}

/* ---- all of it --------------------------------------------------------------------------- */

/* NULL: count only. */
static void put_all(bpi_fill *f, bp_beat *beat, bp_line *line, bp_claim *claim, bp_reply *reply)
{
    uint32_t number = 0;
    f->plan->lines = f->plan->claims = f->plan->replies = 0;
    for (uint32_t a = 0; a < f->live->airs; a++) {
        const bpi_segment *g = segment_of(f, a);
        for (uint32_t i = 0; i < f->live->air[a].beats; i++, number++) {
            const bpi_beat *b = &f->live->air[a].beat[i];
            add_lines(f, line, a, &beat[number], i);
            for (uint32_t k = 0; k < b->claims; k++, f->plan->claims++)
                if (claim)
                    claim[f->plan->claims] = judged(f, g, &b->claim[k], number);
        }
        for (uint32_t d = 0; d < g->dishes; d++) {
            const bpi_recipe *r = recipe_of(f, g, d);
            add_replies(f, reply, a, g->dish[d].title, r->answer, r->answers);
        }
        add_replies(f, reply, a, "", g->answer, g->answers);
    }
}

void bpi_fill_talk(bpi_fill *f, bp_beat *beat)
{
    put_all(f, beat, NULL, NULL, NULL);
    bp_line *line = BPI_FILL(f, f->plan->lines, bp_line);
    bp_claim *claim = BPI_FILL(f, f->plan->claims, bp_claim);
    bp_reply *reply = BPI_FILL(f, f->plan->replies, bp_reply);
    if (f->failed)
        f->plan->lines = f->plan->claims = f->plan->replies = 0;
    else
        put_all(f, beat, line, claim, reply);
    f->plan->line = line;
    f->plan->claim = claim;
    f->plan->reply = reply;
}
