/* src/plan/gear.c - which vessels and tools are in use when, in the kitchen and on the set.
 *
 * Owns     the uses that the pull list counts; what is asked for by more than there is.
 * May use  plan/fill, plan/heed, goods/pull, live/tool, prep/, base/.
 */
#include "goods/pull.h"
#include "live/tool.h"
#include "plan/heed.h"

static const char *codes_of(bpi_fill *f, const bpi_job *job)
{
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_put(&text, "");
    for (uint32_t i = 0; i < job->serves; i++)
        bpi_text_f(&text, "%s%s", i ? " " : "", f->prep->box[f->prep->serve[job->serve0 + i]].code);
    return bpi_fill_text(f, &text);
}

/* A small bowl for each measured ingredient, until the container goes off. */
static uint32_t find_bowls(bpi_fill *f, uint32_t j, bpi_pull_use *use)
{
    const bpi_job *job = &f->prep->job[j];
    uint32_t n = 0, box = f->prep->serve[job->serve0];
    const bpi_recipe *r = &f->show->recipe[job->recipe];
    for (uint32_t s = 0; s < r->steps; s++)
        for (uint32_t i = 0; (bpi_fill_measured(f, box) >> s & 1) && i < r->step[s].ingredients;
             i++, n++)
            if (use)
                use[n] = (bpi_pull_use){BPI_PULL_BOWL, bpi_schedule_from(f->prep, f->schedule, j),
                                        bpi_fill_swap(f, box)->last, codes_of(f, job), 0};
    return n;
}

/* What a beat takes up stands on the set from when all must stand there until the container was last
 * seen. */
static uint32_t find_on_air(bpi_fill *f, uint32_t box, bpi_pull_use *use)
{
    const bpi_air *air = &f->live->air[f->prep->box[box].air];
    const bpi_swap *w = bpi_fill_swap(f, box);
    uint32_t n = 0, beat;
    for (uint32_t k = 0; k < f->show->kitchen.tools; k++) {
        if (f->show->kitchen.tool[k].wash && f->schedule)
            continue; /* counted with the carry and the time on the set */
        for (uint32_t i = bpi_live_tool(f->show, air, w, k, &beat); i > 0; i--, n++)
            if (use)
                use[n] = (bpi_pull_use){k, w->set_by, w->last, f->container[box].code,
                                        1 + f->prep->box[box].air};
    }
    return n;
}

/* Nobody fetches the sink that vessels are washed in. */
static bool is_sink(const bpi_fill *f, uint32_t j, const bpi_res *res)
{
    return f->prep->job[j].kind == BP_OP_WASH && res->kind == BPI_RES_TOOL &&
           res->a == f->show->kitchen.tool[f->prep->job[j].number].wash_at;
}

/* A vessel that is followed stands on the set with its food. */
static uint32_t stage_of(const bpi_job *job)
{
    return job->kind == BP_OP_SET ? 1 + job->air : 0;
}

static uint32_t find_in_kitchen(bpi_fill *f, bpi_pull_use *use)
{
    const bp_eng_problem *q = &f->prep->problem;
    uint32_t n = 0;
    for (uint32_t j = 0; f->schedule && j < q->activities; j++) {
        if (bpi_schedule_out(f->prep, f->schedule, j))
            continue;
        if (f->prep->job[j].kind == BP_OP_MEASURE)
            n += find_bowls(f, j, use ? use + n : NULL);
        const bp_eng_option *o = &q->option[q->activity[j].option0 + f->schedule->option[j]];
        for (uint32_t i = 0; i < o->needs; i++) {
            const bp_eng_need *need = &q->need[o->need0 + i];
            const bpi_res *res = &f->prep->res[need->res];
            if (is_sink(f, j, res))
                continue;
            for (int32_t k = 0; res->kind == BPI_RES_TOOL && k < need->amount; k++) {
                if (use)
                    use[n] =
                        (bpi_pull_use){res->a, bpi_schedule_from(f->prep, f->schedule, j),
                                       bpi_schedule_to(f->prep, f->schedule, j),
                                       codes_of(f, &f->prep->job[j]), stage_of(&f->prep->job[j])};
                n++;
            }
        }
    }
    return n;
}

/* ---- gone with its food ---------------------------------------------------------------------- */

static bool takes(const bpi_fill *f, uint32_t j, uint32_t box, uint32_t tool)
{
    const bp_eng_problem *q = &f->prep->problem;
    const bp_eng_option *o = &q->option[q->activity[j].option0 + f->schedule->option[j]];
    const bpi_job *job = &f->prep->job[j];
    bool found = false, serves = false;
    for (uint32_t i = 0; i < o->needs; i++) {
        const bpi_res *res = &f->prep->res[q->need[o->need0 + i].res];
        found |= res->kind == BPI_RES_TOOL && res->a == tool;
    }
    for (uint32_t i = 0; i < job->serves && found; i++)
        serves |= f->prep->serve[job->serve0 + i] == box;
    return serves && !bpi_schedule_out(f->prep, f->schedule, j);
}

/* The end of the last operation that has it for the container. */
static int64_t let_go(const bpi_fill *f, uint32_t box, uint32_t tool)
{
    int64_t end = BP_NO_TIME;
    for (uint32_t j = 0; j < f->prep->problem.activities; j++) {
        int64_t to = takes(f, j, box, tool) ? bpi_schedule_to(f->prep, f->schedule, j) : BP_NO_TIME;
        end = to != BP_NO_TIME && (end == BP_NO_TIME || to > end) ? to : end;
    }
    return end;
}

/* The end of clearing the set after it; after the last appearance that of its time on the set. */
static int64_t cleared(const bpi_fill *f, uint32_t box)
{
    const bpi_prep *p = f->prep;
    for (uint32_t j = 0; j < p->problem.activities; j++)
        if (p->job[j].kind == BP_OP_RESET && p->job[j].air == p->box[box].air)
            return bpi_schedule_to(p, f->schedule, j);
    return bpi_schedule_to(p, f->schedule, p->box[box].set);
}

/* A vessel that is not followed leaves the kitchen with the food in it. On the set it may be what a beat
 * takes up, which is counted there already. */
static uint32_t find_gone(bpi_fill *f, uint32_t box, bpi_pull_use *use)
{
    const bpi_prep *p = f->prep;
    uint32_t tools = f->show->kitchen.tools, n = 0, beat, stage = 1 + p->box[box].air;
    for (uint32_t k = 0; k < tools; k++) {
        uint32_t gone = p->gone[(size_t)box * tools + k];
        if (!gone)
            continue;
        const char *code = f->container[box].code;
        uint32_t up =
            bpi_live_tool(f->show, &f->live->air[p->box[box].air], bpi_fill_swap(f, box), k, &beat);
        int64_t from = let_go(f, box, k), set = bpi_schedule_from(p, f->schedule, p->box[box].set);
        for (uint32_t i = 0; i < gone; i++) {
            if (use)
                use[n] = (bpi_pull_use){k, from == BP_NO_TIME ? set : from, set, code, 0};
            n++;
            if (i < up)
                continue;
            if (use)
                use[n] = (bpi_pull_use){k, set, cleared(f, box), code, stage};
            n++;
        }
    }
    return n;
}

uint32_t bpi_fill_uses(bpi_fill *f, bpi_pull_use *use)
{
    uint32_t n = find_in_kitchen(f, use);
    for (uint32_t b = 0; f->schedule && b < f->prep->boxes; b++) {
        n += find_on_air(f, b, use ? use + n : NULL);
        n += find_gone(f, b, use ? use + n : NULL);
    }
    return n;
}

/* The codes of all that have the tool at that moment. */
static void put_users(bpi_text *t, const bpi_pull_use *use, uint32_t uses, uint32_t tool,
                      int64_t at)
{
    const char *between = "";
    for (uint32_t i = 0; i < uses; i++)
        if (use[i].tool == tool && use[i].from <= at && at < use[i].to && use[i].codes[0]) {
            bpi_text_f(t, "%s%s", between, use[i].codes);
            between = ", ";
        }
}

void bpi_heed_gear(bpi_heed *h)
{
    bpi_fill *f = h->f;
    uint32_t uses = bpi_fill_uses(f, NULL);
    bpi_pull_use *use = BPI_FILL(f, uses, bpi_pull_use);
    if (f->failed)
        return;
    bpi_fill_uses(f, use);
    for (uint32_t k = 0; k < f->show->kitchen.tools && !f->failed; k++) {
        const bpi_tool *tool = &f->show->kitchen.tool[k];
        int64_t at = 0;
        uint32_t most = bpi_gear_most(k, use, uses, &at);
        if (most <= tool->count)
            continue;
        bpi_text t = BPI_TEXT_EMPTY;
        bpi_text_f(&t, "%s: %u are needed at once (", tool->name, (unsigned)most);
        put_users(&t, use, uses, k, at);
        bpi_text_f(&t, "), and the kitchen has %u; bring more, or %s", (unsigned)tool->count,
                   tool->vessel ? "put what is in one into something else"
                                : "share one on the set by hand");
        bp_finding x = {BP_CAUTION, BP_NO_INDEX, at, "", bpi_fill_text(f, &t), ""};
        bpi_heed_finding(h, &x);
    }
}
