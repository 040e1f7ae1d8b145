/* src/plan/words.c - the words for what a plan holds: kinds, stages, roles, moments, lengths.
 *
 * Owns     static text.
 * May use  base/.
 */
#include "backpot/plan.h"

#include "base/clock.h"
#include "base/span.h"

const char *bp_op_kind_name(bp_op_kind kind)
{
    static const char *const names[] = {
        [BP_OP_ACTIVE] = "active",   [BP_OP_PASSIVE] = "passive",   [BP_OP_OVEN] = "oven",
        [BP_OP_LOAD] = "load",       [BP_OP_TAKE_OFF] = "take off", [BP_OP_MEASURE] = "measure",
        [BP_OP_WAIT] = "wait",       [BP_OP_CARRY] = "carry",       [BP_OP_SET] = "set",
        [BP_OP_PREHEAT] = "preheat", [BP_OP_RESET] = "reset",       [BP_OP_STAND_BY] = "stand by",
        [BP_OP_WASH] = "wash",       [BP_OP_HELP] = "help",         [BP_OP_WARM_UP] = "warm up",
    };
    return (unsigned)kind < sizeof names / sizeof *names ? names[kind] : "unknown";
}

const char *bp_stage_name(bp_stage stage)
{
    static const char *const names[] = {
        [BP_RAW] = "raw", [BP_MID] = "mid-cook", [BP_FINISHED] = "finished"};
    return (unsigned)stage < sizeof names / sizeof *names ? names[stage] : "unknown";
}

const char *bp_truth_name(bp_truth truth)
{
    static const char *const names[] = {
        [BP_NO] = "no", [BP_YES] = "yes", [BP_UNSURE] = "not enough data"};
    return (unsigned)truth < sizeof names / sizeof *names ? names[truth] : "unknown";
}

const char *bp_good_kind_name(bp_good_kind kind)
{
    static const char *const names[] = {[BP_GOOD_FOOD] = "food",
                                        [BP_GOOD_VESSEL] = "vessel",
                                        [BP_GOOD_TOOL] = "tool",
                                        [BP_GOOD_SUPPLY] = "supply"};
    return (unsigned)kind < sizeof names / sizeof *names ? names[kind] : "unknown";
}

const char *bp_pack_for_name(bp_pack_for use)
{
    static const char *const names[] = {[BP_PACK_KITCHEN] = "kitchen",
                                        [BP_PACK_SET] = "set",
                                        [BP_PACK_TASTING] = "tasting",
                                        [BP_PACK_STRIKE] = "strike"};
    return (unsigned)use < sizeof names / sizeof *names ? names[use] : "unknown";
}

const char *bp_role_name(bp_role role)
{
    static const char *const names[] = {
        [BP_ROLE_AIR] = "air",       [BP_ROLE_BEAUTY] = "beauty", [BP_ROLE_TEASE] = "tease",
        [BP_ROLE_TASTE] = "tasting", [BP_ROLE_SPARE] = "spare",
    };
    return (unsigned)role < sizeof names / sizeof *names ? names[role] : "unknown";
}

/* A text that stands in the caller's buffer. The longest that the two below append is shorter than
 * the buffer ("Wed 16:00:30 (UTC+05:45)", "-2562047788015215 h 30 min 8 s"), so it never grows. */
static bpi_text text_in(char out[BP_CLOCK_ROOM])
{
    out[0] = '\0';
    return (bpi_text){.s = out, .room = BP_CLOCK_ROOM};
}

char *bp_plan_clock(char out[BP_CLOCK_ROOM], const bp_plan *plan, int64_t t)
{
    bpi_text text = text_in(out);
    bpi_zone zone;
    if (bpi_zone_find(&zone, plan->zone) != BP_OK) {
        bpi_text_put(&text, "??:??"); /* a plan of a show that was read has a zone */
        return out;
    }
    bpi_clock clock = {&zone, {plan->year, plan->month, plan->day}, plan->midnight};
    bpi_clock_put(&text, &clock, t, 0);
    return out;
}

char *bp_length_text(char out[BP_CLOCK_ROOM], int64_t seconds)
{
    bpi_text text = text_in(out);
    bpi_span_words(&text, seconds);
    return out;
}
