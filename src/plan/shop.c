/* src/plan/shop.c - what is measured into each operation, and what is fetched for all.
 *
 * Owns     nothing: amounts are goods/'s.
 * May use  plan/fill, goods/, prep/, base/.
 */
#include "goods/entry.h"
#include "goods/pull.h"
#include "plan/fill.h"

static bpi_ratio size_of(const bpi_fill *f, const bpi_job *job)
{
    bpi_ratio sum = bpi_fill_swap(f, f->prep->serve[job->serve0])->size;
    for (uint32_t i = 1; i < job->serves; i++)
        sum = bpi_ratio_add(sum, bpi_fill_swap(f, f->prep->serve[job->serve0 + i])->size);
    return sum;
}

static bool loaded_by_hand(const bpi_job *job)
{
    return job->kind == BP_OP_ACTIVE || job->kind == BP_OP_LOAD;
}

const char *bpi_fill_detail(bpi_fill *f, const bpi_job *job)
{
    const bpi_recipe *r = job->recipe == BPI_NO_INDEX ? NULL : &f->show->recipe[job->recipe];
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_put(&text, "");
    if (r && loaded_by_hand(job))
        bpi_entry_put_step(&text, &r->step[job->step], size_of(f, job));
    for (uint32_t i = 0; r && job->kind == BP_OP_MEASURE && i < r->steps; i++) {
        const bpi_step *s = &r->step[r->order[i]];
        if (s->ingredients && text.len)
            bpi_text_char(&text, '\n');
        bpi_entry_put_step(&text, s, size_of(f, job));
    }
    return bpi_fill_text(f, &text);
}

/* Steps done on air with a container: of the beats it stands through. */
static uint64_t done_on_air(const bpi_fill *f, uint32_t box)
{
    const bpi_air *air = &f->live->air[f->prep->box[box].air];
    const bpi_swap *w = bpi_fill_swap(f, box);
    uint64_t steps = 0;
    for (uint32_t i = w->first_beat; i < air->beats && i <= w->last_beat; i++) {
        const bpi_beat *beat = &air->beat[i];
        for (uint32_t k = 0; beat->dish == w->dish && !air->fitted[i].dropped && k < beat->does_n;
             k++)
            steps |= UINT64_C(1) << beat->does[k];
    }
    return steps & ~w->steps;
}

static const char *codes_of(bpi_fill *f, const bpi_job *job)
{
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_put(&text, "");
    for (uint32_t i = 0; i < job->serves; i++)
        bpi_text_f(&text, "%s%s", i ? " " : "", f->prep->box[f->prep->serve[job->serve0 + i]].code);
    return bpi_fill_text(f, &text);
}

static uint32_t find_uses(bpi_fill *f, bpi_pull_use *use)
{
    const bp_eng_problem *q = &f->prep->problem;
    uint32_t n = 0;
    for (uint32_t j = 0; f->schedule && j < q->activities; j++) {
        if (bpi_schedule_out(f->prep, f->schedule, j))
            continue;
        const bp_eng_option *o = &q->option[q->activity[j].option0 + f->schedule->option[j]];
        for (uint32_t i = 0; i < o->needs; i++) {
            const bp_eng_need *need = &q->need[o->need0 + i];
            const bpi_res *res = &f->prep->res[need->res];
            for (int32_t k = 0; res->kind == BPI_RES_TOOL && k < need->amount; k++) {
                if (use)
                    use[n] = (bpi_pull_use){res->a, bpi_schedule_from(f->prep, f->schedule, j),
                                            bpi_schedule_to(f->prep, f->schedule, j),
                                            codes_of(f, &f->prep->job[j])};
                n++;
            }
        }
    }
    return n;
}

bp_code bpi_fill_goods(bpi_fill *f, bp_errors *errs)
{
    if (!f->prep || f->failed)
        return BP_OK;
    uint32_t uses = find_uses(f, NULL);
    bpi_pull_use *use = BPI_FILL(f, uses, bpi_pull_use);
    bpi_pull_box *box = BPI_FILL(f, f->prep->boxes, bpi_pull_box);
    if (f->failed)
        return BP_OK;
    find_uses(f, use);
    for (uint32_t b = 0; b < f->prep->boxes; b++) {
        const bpi_swap *w = bpi_fill_swap(f, b);
        const bpi_recipe *r = &f->show->recipe[f->prep->box[b].recipe];
        box[b] = (bpi_pull_box){f->container[b].code, f->prep->box[b].recipe, w->size,
                                bpi_pull_steps(r, w->stage, w->steps, done_on_air(f, b))};
    }
    if (f->failed)
        return BP_OK;
    return bpi_pull_make(&f->plan->good, &f->plan->goods, f->a, f->show, box, f->prep->boxes, use,
                         uses, errs);
}
