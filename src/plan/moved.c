/* src/plan/moved.c - how far a hit can move with everything cooked as planned.
 *
 * Owns     hit_from and hit_to of containers and appearances.
 * May use  plan/fill, plan/crew_until, base/.
 *
 * Only the hit moves, and the whole slot with it; what is cooked and carried stays as planned. A
 * container bears any hit at which it stands on the set by its first moment on camera (the dressing
 * lead may shrink), and at whose last moment it is neither past its best nor past its use-by. Teases
 * stay where they are.
 */
#include "plan/crew_until.h"
#include "plan/fill.h"

/* Its first moment on camera in the slot. */
static int64_t first_of(const bp_plan *p, const bp_container *c)
{
    if (c->beat != BP_NO_INDEX)
        return p->beat[c->beat].from;
    int64_t hit = p->air[c->air].hit; /* in view, or ready to stand in, from the hit on */
    return c->needed > hit ? c->needed : hit;
}

static int64_t good_to(const bp_container *c)
{
    int64_t to = c->best_by == BP_NO_TIME ? INT64_MAX : c->best_by;
    return c->use_by != BP_NO_TIME && c->use_by < to ? c->use_by : to;
}

/* From the start of the first operation that is for it until it stands on the set. */
static int64_t remake_of(const bpi_fill *f, uint32_t c)
{
    const bp_plan *p = f->plan;
    for (uint32_t i = 0; i < p->ops; i++) /* by start */
        for (uint32_t k = 0; k < p->op[i].serves.n; k++)
            if (f->index[p->op[i].serves.first + k] == c)
                return p->container[c].on_set - p->op[i].from;
    return 0;
}

static void fill_containers(bpi_fill *f)
{
    const bp_plan *p = f->plan;
    for (uint32_t i = 0; i < p->containers; i++) {
        bp_container *c = &f->container[i];
        int64_t hit = p->air[c->air].hit;
        c->remake = remake_of(f, i);
        if (c->role == BP_ROLE_TEASE || c->on_set == BP_NO_TIME)
            continue;
        c->hit_from = hit + c->on_set - first_of(p, c);
        if (good_to(c) != INT64_MAX)
            c->hit_to = hit + p->air[c->air].floats + good_to(c) - c->last;
    }
}

static const char *person_text(bpi_fill *f, bpi_until why, uint32_t person)
{
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_f(&text, "%s%s", person == BP_NO_INDEX ? "" : f->plan->person[person].name,
               bpi_until_text(why));
    return bpi_fill_text(f, &text);
}

static const char *container_text(bpi_fill *f, uint32_t c, const char *what)
{
    bpi_text text = BPI_TEXT_EMPTY;
    bpi_text_f(&text, "%s %s", f->plan->container[c].code, what);
    return bpi_fill_text(f, &text);
}

/* Earlier: until the first container is not there in time, or an appearance before is still on. */
static void fill_from(bpi_fill *f, uint32_t air)
{
    const bp_plan *p = f->plan;
    bp_air *a = &f->air[air];
    for (uint32_t k = 0; k < p->airs; k++) {
        int64_t end = p->air[k].hit + p->air[k].slot + p->air[k].floats;
        if (p->air[k].hit < a->hit && (a->hit_from == BP_NO_TIME || end > a->hit_from)) {
            a->hit_from = end;
            a->hit_from_why = "the slot before is still on air";
        }
    }
    for (uint32_t i = 0; i < p->containers; i++) {
        const bp_container *c = &p->container[i];
        if (c->air != air || c->hit_from == BP_NO_TIME ||
            (a->hit_from != BP_NO_TIME && c->hit_from <= a->hit_from))
            continue;
        a->hit_from = c->hit_from;
        a->hit_from_box = i;
    }
    if (a->hit_from_box != BP_NO_INDEX)
        a->hit_from_why = container_text(f, a->hit_from_box, "is not on the set yet");
}

/* Later: until the first container is past its best or its use-by, or somebody cannot stay. */
static void fill_to(bpi_fill *f, uint32_t air)
{
    const bp_plan *p = f->plan;
    bp_air *a = &f->air[air];
    bpi_until why;
    uint32_t person;
    int64_t end = bpi_crew_until(&why, &person, p, air);
    if (why != BPI_UNTIL_NONE) {
        a->hit_to = end - a->slot;
        a->hit_to_why = person_text(f, why, person);
    }
    for (uint32_t i = 0; i < p->containers; i++) {
        const bp_container *c = &p->container[i];
        if (c->air != air || c->hit_to == BP_NO_TIME ||
            (a->hit_to != BP_NO_TIME && c->hit_to >= a->hit_to))
            continue;
        a->hit_to = c->hit_to;
        a->hit_to_box = i;
    }
    if (a->hit_to_box != BP_NO_INDEX) {
        const bp_container *c = &p->container[a->hit_to_box];
        bool unsafe = c->use_by != BP_NO_TIME && good_to(c) == c->use_by;
        a->hit_to_why =
            container_text(f, a->hit_to_box, unsafe ? "is past its use-by" : "is past its best");
    }
}

void bpi_fill_moved(bpi_fill *f)
{
    fill_containers(f);
    for (uint32_t i = 0; i < f->plan->airs; i++) {
        fill_from(f, i);
        fill_to(f, i);
    }
}
