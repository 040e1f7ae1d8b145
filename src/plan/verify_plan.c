/* src/plan/verify_plan.c - the independent checker: its parts in their order.
 *
 * Owns     nothing.
 * May use  plan/verify and what it names; plan/buffer, whose longer steps the plan is held to.
 */
#include "plan/verify.h"

#include "plan/buffer.h"

/* What a plan allows beyond the likely times is no longer than the show says a step may take; with
 * that, it is held to everything. false: no memory. */
static bool add_buffers(bpi_verify *v)
{
    const bp_chance *c = v->plan->chance;
    if (!c || !c->buffers)
        return true;
    const bp_buffer *wrong = NULL;
    const bpi_show *show = bpi_buffer_show(v->arena, v->show, c->buffer, c->buffers, &wrong);
    if (wrong)
        bpi_object(v, wrong->step, "the show has no room for its buffer");
    else if (show)
        v->show = show;
    return show || wrong;
}

static bp_code verify(bpi_verify v)
{
    bp_errors *errs = v.errs;
    v.arena = bpi_arena_new();
    bool memory = v.arena && add_buffers(&v);
    if (memory && !v.objected)
        memory = bpi_verify_names(&v);
    if (memory && !v.objected)
        memory = bpi_verify_air(&v);
    if (memory && !v.objected) {
        bpi_verify_walk(&v);
        bpi_verify_version(&v);
        bpi_verify_talk(&v);
        bpi_verify_station(&v);
        bpi_verify_box(&v);
        bpi_verify_step(&v);
        bpi_verify_crew(&v);
        bpi_verify_dress(&v);
        bpi_verify_use(&v);
        bpi_verify_warm(&v);
        memory = bpi_verify_vessel(&v);
        bpi_verify_power(&v);
        bpi_verify_stand(&v);
        memory = bpi_verify_pack(&v) && memory;
        bpi_verify_goal(&v);
        if (v.amends)
            bpi_verify_amends(&v);
    }
    bpi_arena_free(v.arena);
    if (!memory)
        return bpi_error_no_memory(errs);
    return v.objected ? BP_EINTERNAL : BP_OK;
}

bp_code bp_plan_verify(const bp_plan *plan, const bp_show *show, bp_errors *errs)
{
    return verify((bpi_verify){.plan = plan, .show = show, .errs = errs});
}

bp_code bpi_verify_mended(const bp_plan *plan, const bpi_show *show, const bpi_amends *amends,
                          bp_errors *errs)
{
    return verify((bpi_verify){.plan = plan, .show = show, .errs = errs, .amends = amends});
}
