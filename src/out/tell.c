#include "out/tell.h"

#include <string.h>

#include "base/span.h"
#include "base/utf8.h"
#include "out/facts.h"

void bpi_tell_plain(bpi_text *out, const char *s, size_t len)
{
    while (len && (*s == ' ' || *s == '\t'))
        s++, len--;
    while (len && (s[len - 1] == ' ' || s[len - 1] == '\t'))
        len--;
    bpi_utf8_plain(out, s, len);
}

static void put_line(bpi_text *out, const char *s, size_t len)
{
    if (len == 0)
        return;
    if (out->len)
        bpi_text_char(out, '\n');
    bpi_tell_plain(out, s, len);
}

/* Each line of `s` as one. */
static void put_lines(bpi_text *out, const char *s)
{
    while (*s) {
        size_t n = strcspn(s, "\n");
        put_line(out, s, n);
        s += n + (s[n] == '\n');
    }
}

/* A line made of a word and a text; nothing where the text is empty. */
static void put_fact(bpi_text *out, const char *word, const char *s)
{
    if (!*s)
        return;
    bpi_text_f(out, "%s%s", out->len ? "\n" : "", word);
    bpi_tell_plain(out, s, strlen(s));
}

static void put_late(bpi_text *out, const bp_plan *plan)
{
    if (plan->verdict != BP_PLANNED)
        put_lines(out, "Late plan: not everything is on set in time.");
}

static void put_codes(bpi_text *out, const bp_plan *plan, bp_slice containers)
{
    for (uint32_t i = 0; i < containers.n; i++)
        bpi_text_f(out, "%s%s", i ? " " : "",
                   plan->container[plan->index[containers.first + i]].code);
}

static void put_window(bpi_text *out, const bpi_clock *clock, const bp_op *op)
{
    if (op->off_least == BP_NO_TIME || op->off_most == BP_NO_TIME)
        return;
    bpi_text_put(out, out->len ? "\nDone from " : "Done from ");
    bpi_clock_put(out, clock, op->off_least, 0);
    if (op->off_most > op->off_least) {
        bpi_text_put(out, " to ");
        bpi_clock_put(out, clock, op->off_most, 0);
    }
}

static void put_places(bpi_text *out, const bp_plan *plan, bp_slice uses)
{
    for (uint32_t i = 0; i < uses.n; i++) {
        const bp_thing *thing = &plan->thing[plan->index[uses.first + i]];
        bool said = i > 0 && plan->index[uses.first + i] == plan->index[uses.first + i - 1];
        if (thing->kind == BP_TOOL || thing->kind == BP_VESSEL || said) /* more positions of it */
            continue;
        bpi_text_put(out, out->len ? ", " : "");
        bpi_tell_plain(out, thing->name, strlen(thing->name));
    }
}

void bpi_tell_op(bpi_entry *e, const bp_plan *plan, const bpi_clock *clock, const bp_op *op)
{
    put_codes(&e->summary, plan, op->serves);
    /* "Carry B4 to the set" names its container itself. */
    if (op->serves.n == 1 && !e->summary.failed && strstr(op->text, e->summary.s))
        bpi_text_reset(&e->summary);
    else if (op->serves.n)
        bpi_text_char(&e->summary, ' ');
    bpi_tell_plain(&e->summary, op->text, strlen(op->text));

    put_late(&e->description, plan);
    if (op->person != BP_NO_INDEX)
        put_fact(&e->description, "Cook: ", plan->person[op->person].name);
    if (op->dish != BP_NO_INDEX)
        put_fact(&e->description, "Dish: ", plan->dish[op->dish].title);
    put_lines(&e->description, op->detail);
    bpi_text meanwhile = BPI_TEXT_EMPTY;
    bpi_fact_meanwhile(&meanwhile, plan, op);
    put_lines(&e->description, meanwhile.s ? meanwhile.s : "");
    e->description.failed |= meanwhile.failed;
    bpi_text_release(&meanwhile);
    put_fact(&e->description, "Oven: ", op->oven_text);
    put_fact(&e->description, "Core: ", op->core_text);
    put_window(&e->description, clock, op);
    put_lines(&e->description, op->caution);
    put_lines(&e->description, plan->defer);
    put_places(&e->location, plan, op->uses);
    bpi_text_put(&e->category, bp_op_kind_name(op->kind));
}

void bpi_tell_air(bpi_entry *e, const bp_plan *plan, const bpi_clock *clock, const bp_air *air)
{
    bpi_text_put(&e->summary, "ON AIR ");
    bpi_tell_plain(&e->summary, air->title, strlen(air->title));
    put_late(&e->description, plan);
    bpi_text_put(&e->description, e->description.len ? "\nSlot: " : "Slot: ");
    bpi_span_minutes(&e->description, air->slot);
    if (air->floats) {
        bpi_text_put(&e->description, "\nMay come until: ");
        bpi_clock_put(&e->description, clock, air->hit + air->floats, 0);
    }
    bpi_text_put(&e->description, "\nOn set by: ");
    bpi_clock_put(&e->description, clock, air->set_by, 0);
    put_fact(&e->description, "Hosts: ", air->hosts);
    put_fact(&e->description, "Tasting: ", air->tasters);
    for (uint32_t i = 0; i < air->beats.n; i++) {
        const bp_beat *beat = &plan->beat[air->beats.first + i];
        if (beat->dropped)
            continue;
        bpi_text_char(&e->description, '\n');
        bpi_clock_put(&e->description, clock, beat->from, BPI_CLOCK_SECONDS);
        bpi_text_char(&e->description, ' ');
        bpi_tell_plain(&e->description, beat->text, strlen(beat->text));
        if (beat->on.n) {
            bpi_text_put(&e->description, " (");
            put_codes(&e->description, plan, beat->on);
            bpi_text_char(&e->description, ')');
        }
    }
    put_lines(&e->description, plan->defer);
    bpi_text_put(&e->location, "set");
    bpi_text_put(&e->category, air->rehearsal ? "rehearsal" : "on air");
}
