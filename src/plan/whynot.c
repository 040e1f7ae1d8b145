#include "plan/whynot.h"

#include "base/text.h"
#include "prep/cure.h"
#include "prep/ease.h"
#include "prep/fact.h"

#define MOST_CHAINS 3 /* so many changes of the first slot are tried with changes of the rest */

static bp_fact fact_row(bpi_fill *f, const char *text, bpi_where where)
{
    return (bp_fact){text, bpi_fill_copy(f, where.pointer ? where.pointer : ""),
                     bpi_fill_copy(f, where.file ? where.file : ""), where.line, where.col};
}

/* A change of beats, and what else it takes: the slots that still do not fit, then the kitchen. */
typedef struct chain {
    bpi_fill *f;
    bpi_arena *a;
    bpi_text text;
    const bpi_show *show;
    bpi_live *live;
    bool fits;
    bp_errors *errs;
} chain;

static void also(chain *c, const char *text)
{
    bpi_text_put(&c->text, c->text.len ? ", and " : "");
    bpi_text_put(&c->text, text);
}

/* Change one slot after the other until all fit. */
static bp_code fit_slots(chain *c)
{
    bp_errors *aside = BPI_TAKE(c->a, 1, bp_errors); /* that they do not fit is no error */
    if (!aside)
        return bpi_error_no_memory(c->errs);
    for (uint32_t i = 0; i <= c->f->show->segments; i++) {
        bp_code rc = bpi_live_make(&c->live, c->a, c->show, aside);
        if (rc == BP_ENOMEM)
            return bpi_error_no_memory(c->errs);
        c->fits = rc == BP_OK;
        if (c->fits || rc != BP_ENOFIT || c->live->cures == 0)
            break;
        also(c, c->live->cure[0].text);
        c->show = c->live->cure[0].show;
    }
    return BP_OK;
}

/* Ask the kitchen, and change it where that is needed. *yes: there is a plan. */
static bp_code fit_kitchen(bool *yes, chain *c)
{
    bpi_prep *p = NULL;
    bpi_cures cures = {0};
    bpi_purse purse = {.left = BPI_CURE_EACH, .each = BPI_CURE_EACH};
    const bpi_prep_change change = {.implied = true};
    bp_code rc = bpi_prep_make(&p, c->a, c->show, c->live, &change, c->errs);
    if (rc == BP_OK)
        rc = bpi_ease_feasible(yes, &p->problem, &purse, c->errs);
    if (rc != BP_OK || *yes)
        return rc;
    rc = bpi_cure_find(&cures, c->a, p, NULL, 0, c->errs);
    if (rc == BP_OK && cures.n) {
        also(c, cures.cure[0].text);
        *yes = true;
    }
    return rc;
}

static bp_code try_chain(bp_fix *fix, bool *yes, bpi_fill *f, const bpi_remedy *first,
                         bp_errors *errs)
{
    chain c = {.f = f, .a = bpi_arena_new(), .show = first->show, .errs = errs};
    bp_code rc = c.a ? BP_OK : bpi_error_no_memory(errs);
    also(&c, first->text);
    *yes = false;
    if (rc == BP_OK)
        rc = fit_slots(&c);
    if (rc == BP_OK && c.fits)
        rc = fit_kitchen(yes, &c);
    if (rc == BP_OK && *yes)
        *fix = (bp_fix){bpi_fill_text(f, &c.text),
                        bpi_fill_copy(f, first->where.pointer ? first->where.pointer : ""), true};
    bpi_text_release(&c.text);
    bpi_arena_free(c.a);
    return rc;
}

static bp_code fill_cures(bpi_fill *f, bool fixes, bp_errors *errs)
{
    const bpi_live *live = f->live;
    bp_fix *fix = BPI_FILL(f, (size_t)live->cures + 1, bp_fix);
    bool *whole = BPI_FILL(f, live->cures, bool);
    if (f->failed)
        return BP_ENOMEM; /* told once, at the end */
    bpi_purse purse = {.left = fixes ? BPI_CURE_SINGLE : 0, .each = BPI_CURE_EACH};
    uint32_t n = 0;
    bool any = false;
    for (uint32_t i = 0; i < live->cures; i++) {
        bp_code rc = bpi_ease_show(&whole[i], live->cure[i].show, &purse, errs);
        if (rc != BP_OK)
            return rc;
        any = any || whole[i];
    }
    for (uint32_t i = 0; i < live->cures && i < MOST_CHAINS && fixes && !any; i++) {
        bp_code rc = try_chain(&fix[0], &any, f, &live->cure[i], errs);
        if (rc != BP_OK)
            return rc;
        n = any;
    }
    for (int round = 0; round < 2; round++)
        for (uint32_t i = 0; i < live->cures; i++)
            if (whole[i] == (round == 0)) {
                const char *pointer = live->cure[i].where.pointer;
                fix[n++] = (bp_fix){bpi_fill_copy(f, live->cure[i].text),
                                    bpi_fill_copy(f, pointer ? pointer : ""), whole[i]};
            }
    f->plan->fix = fix;
    f->plan->fixes = n;
    f->plan->fixes_cut = purse.cut;
    return BP_OK;
}

bp_code bpi_whynot_air(bpi_fill *f, bool fixes, bp_errors *errs)
{
    const bpi_live *live = f->live;
    bp_fact *fact = BPI_FILL(f, live->clashes, bp_fact);
    for (uint32_t i = 0; fact && i < live->clashes; i++)
        fact[i] = fact_row(f, bpi_fill_copy(f, live->clash[i].text), live->clash[i].where);
    f->plan->fact = fact;
    f->plan->facts = live->clashes;
    return fill_cures(f, fixes, errs);
}

void bpi_whynot_kitchen(bpi_fill *f, const bpi_prep *p, const bpi_why_not *why, bool no_fixes)
{
    bp_fact *fact = BPI_FILL(f, why->facts, bp_fact);
    bp_fix *fix = BPI_FILL(f, why->cures.n, bp_fix);
    if (f->failed)
        return;
    for (uint32_t i = 0; i < why->facts; i++) {
        bpi_text text = BPI_TEXT_EMPTY;
        bpi_fact_put(&text, p, why->fact[i]);
        fact[i] = fact_row(f, bpi_fill_text(f, &text), p->fact[why->fact[i]].where);
    }
    for (uint32_t i = 0; i < why->cures.n; i++) {
        const bpi_cure *c = &why->cures.cure[i];
        fix[i] = (bp_fix){bpi_fill_copy(f, c->text), bpi_fill_copy(f, c->pointer), c->whole};
    }
    f->plan->fact = fact;
    f->plan->facts = why->facts;
    f->plan->facts_minimal = why->minimal;
    f->plan->unsure = why->unsure;
    f->plan->fix = fix;
    f->plan->fixes = why->cures.n;
    f->plan->fixes_cut = why->cures.cut || no_fixes;
    f->plan->late_unsure = why->late_unsure;
}
