/* src/plan/verify_version.c - appearances at other lengths: each version stands on its own feet. */
#include "plan/verify.h"

static int64_t seconds(const bp_plan *p, bp_slice list, uint32_t i)
{
    return p->index[list.first + i];
}

/* The lengths of the beats at one end of a stretch. */
static void test_lengths(bpi_verify *v, const bp_air *a, const bp_version *x, bp_slice list,
                         int64_t slot)
{
    const bp_plan *p = v->plan;
    int64_t sum = 0, at = -1;
    if (list.n != a->beats.n) {
        bpi_object(v, a->id, "a version does not give every beat a length");
        return;
    }
    for (uint32_t i = 0; i < a->beats.n; i++) {
        const bp_beat *b = &p->beat[a->beats.first + i];
        int64_t s = seconds(p, list, i), walk = 0;
        sum += s;
        if (x->kept >> i & 1) {
            walk = at < 0 ? 0 : at < b->place ? b->place - at : at - b->place;
            at = b->place;
        }
        if ((x->kept >> i & 1) ? s < b->least + walk || s > b->most + walk : s != 0)
            bpi_object(v, a->id, "beat %s cannot be %lld s in a version of %lld s", b->id,
                       (long long)s, (long long)slot);
        if (slot == a->slot && s != b->length)
            bpi_object(v, a->id, "the version of its own slot is not what is planned");
    }
    if (sum != slot)
        bpi_object(v, a->id, "the beats of a version of %lld s take %lld s", (long long)slot,
                   (long long)sum);
}

static void test_choice(bpi_verify *v, const bp_air *a, const bp_version *x)
{
    const bp_plan *p = v->plan;
    for (uint32_t i = 0; i < a->beats.n; i++) {
        const bp_beat *b = &p->beat[a->beats.first + i];
        bool in = x->kept >> i & 1;
        if (in && (b->needs & ~x->kept))
            bpi_object(v, a->id, "a version keeps beat %s and not what it needs", b->id);
        if (in && !b->ready)
            bpi_object(v, a->id, "a version shows beat %s, for which nothing is cooked", b->id);
        if (!in && b->keep)
            bpi_object(v, a->id, "a version leaves out beat %s, which must stay", b->id);
    }
    if (a->beats.n < 64 && x->kept >> a->beats.n)
        bpi_object(v, a->id, "a version keeps a beat that is not there");
}

static void test_unused(bpi_verify *v, uint32_t air, const bp_version *x)
{
    const bp_plan *p = v->plan;
    const bp_air *a = &p->air[air];
    for (uint32_t c = 0; c < p->containers; c++) {
        bool used = false, ever = false;
        for (uint32_t i = 0; i < a->beats.n; i++) {
            bool on = bpi_among(p, p->beat[a->beats.first + i].on, c) > 0;
            used |= on && (x->kept >> i & 1);
            ever |= on;
        }
        for (uint32_t i = 0; i < a->teases.n; i++)
            used |= p->tease[a->teases.first + i].container == c;
        bool idle = p->container[c].air == air && ever && !used;
        if ((bpi_among(p, x->unused, c) > 0) != idle)
            bpi_object(v, p->container[c].code,
                       "whether a version of %lld s needs it is told wrong", (long long)x->least);
    }
}

void bpi_verify_version(bpi_verify *v)
{
    const bp_plan *p = v->plan;
    for (uint32_t i = 0; i < p->airs; i++) {
        const bp_air *a = &p->air[i];
        int64_t before = INT64_MAX;
        bool own = a->versions.n == 0;
        for (uint32_t k = 0; k < a->versions.n; k++) {
            const bp_version *x = &p->version[a->versions.first + k];
            if (x->least > x->most || x->most >= before || x->least < 0)
                bpi_object(v, a->id, "its versions are not apart, longest first");
            before = x->least;
            own |= x->least <= a->slot && a->slot <= x->most;
            test_choice(v, a, x);
            test_lengths(v, a, x, x->at_least, x->least);
            test_lengths(v, a, x, x->at_most, x->most);
            test_unused(v, i, x);
        }
        if (!own)
            bpi_object(v, a->id, "no version has the length of its slot");
    }
}
