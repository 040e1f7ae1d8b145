#include "plan/crew_until.h"

typedef struct bound {
    int64_t end;
    bpi_until why;
    uint32_t person;
} bound;

static void tighten(bound *b, int64_t end, bpi_until why, uint32_t person)
{
    if (end < b->end)
        *b = (bound){end, why, person};
}

static void of_person(bound *b, const bp_plan *p, const bp_op *by)
{
    for (uint32_t k = 0; k < p->stints; k++)
        if (p->stint[k].person == by->person && p->stint[k].call <= by->from &&
            by->from < p->stint[k].release)
            tighten(b, p->stint[k].wrap, BPI_UNTIL_WRAP, by->person);
    for (uint32_t k = 0; k < p->ops; k++)
        if (p->op[k].person == by->person && p->op[k].from >= by->to)
            tighten(b, p->op[k].from, BPI_UNTIL_WORK, by->person);
}

int64_t bpi_crew_until(bpi_until *why, uint32_t *person, const bp_plan *plan, uint32_t air)
{
    bound b = {INT64_MAX, BPI_UNTIL_NONE, BP_NO_INDEX};
    for (uint32_t k = 0; k < plan->airs; k++)
        if (plan->air[k].hit > plan->air[air].hit)
            tighten(&b, plan->air[k].hit, BPI_UNTIL_HIT, BP_NO_INDEX);
    for (uint32_t i = 0; i < plan->ops; i++) {
        const bp_op *op = &plan->op[i];
        if (op->air != air)
            continue;
        if (op->kind == BP_OP_RESET)
            tighten(&b, op->latest_from, BPI_UNTIL_RESET, BP_NO_INDEX);
        if (op->kind == BP_OP_STAND_BY && op->person != BP_NO_INDEX)
            of_person(&b, plan, op);
    }
    *why = b.why;
    *person = b.person;
    return b.end;
}

const char *bpi_until_text(bpi_until why)
{
    static const char *const text[] = {
        [BPI_UNTIL_NONE] = "",
        [BPI_UNTIL_HIT] = "the next hit comes then",
        [BPI_UNTIL_RESET] = "the set could not be cleared in time for what comes after",
        [BPI_UNTIL_WRAP] = ", who stands by, must be free",
        [BPI_UNTIL_WORK] = ", who stands by, is needed elsewhere",
    };
    return text[why];
}
