#include "cli/notice.h"

#include <stdio.h>

#include "backpot/slot.h"

/* The first beat to come that finds its camera on its way. */
static void put_camera_late(char *out, size_t room, const bpi_face *f)
{
    const bp_floor_view *v = f->view;
    char time[BPI_FACE_TIME];
    for (uint32_t i = 0; i < f->plan->air[v->air].beats.n; i++)
        if (v->phase != BP_FLOOR_OFF && i != v->beat && v->camera_late[i] > 0) {
            snprintf(out, room, "CAMERA %.20s IS %s LATE %s%.60s", bpi_face_beat(f, i)->camera,
                     bpi_face_time(time, v->camera_late[i], false),
                     i == v->next ? "for NEXT: " : "for ", bpi_face_beat(f, i)->text);
            return;
        }
}

/* Containers to come that the plan, mended or not, brings too late. */
static bool put_late(char *out, size_t room, const bpi_face *f)
{
    const bp_floor_view *v = f->view;
    const bp_plan *p = f->plan;
    size_t n = 0;
    for (uint32_t c = 0; v->phase != BP_FLOOR_OFF && c < p->containers; c++) {
        const bp_container *box = &p->container[c];
        char clock[BP_CLOCK_ROOM];
        if (box->air == v->air && box->late > 0 && box->on_set > v->now && n + 40 < room)
            n += (size_t)snprintf(out + n, room - n, "%s%.10s at %s",
                                  n ? ", " : "LATE ON SET: ", box->code,
                                  bp_plan_clock(clock, p, box->on_set));
    }
    return n > 0;
}

/* What is hot in the way to the beat that comes next, or more at a station than there is room for. */
static bool put_way(char *out, size_t room, const bpi_face *f)
{
    const bp_floor_view *v = f->view;
    if (v->phase == BP_FLOOR_OFF || v->next == BP_NO_INDEX)
        return false;
    for (uint32_t k = 0; v->way.full >> v->next & 1 && k < f->plan->air[v->air].beats.n; k++) {
        const bp_beat *b = bpi_face_beat(f, k);
        uint32_t n = bp_slot_stand(f->plan, v->air, v->done | v->fit.kept, v->next, k);
        if (b->room && n > b->room)
            snprintf(out, room, "FULL for NEXT: %.20s holds %u, has room for %u", b->station,
                     (unsigned)n, (unsigned)b->room);
    }
    if (!out[0] && v->way.hot >> v->next & 1)
        snprintf(out, room, "HOT IN THE WAY to NEXT: %.60s", bpi_face_beat(f, v->next)->text);
    return out[0] != '\0';
}

void bpi_notice_draw(bpi_grid *g, int row, const bpi_face *f)
{
    const bp_floor_view *v = f->view;
    char line[200] = "", time[BPI_FACE_TIME], clock[BP_CLOCK_ROOM];
    if (f->alarm[0])
        snprintf(line, sizeof line, "%.180s", f->alarm);
    else if (v->phase == BP_FLOOR_HELD)
        snprintf(line, sizeof line, "HELD for %s: the slot stands still",
                 bpi_face_time(time, v->held, false));
    else if (v->spoils != BP_NO_INDEX)
        snprintf(line, sizeof line, "%.10s %s after %s: it comes too late",
                 f->plan->container[v->spoils].code,
                 v->unsafe ? "IS NOT SAFE TO EAT" : "is past its best",
                 bp_plan_clock(clock, f->plan, v->spoils_at));
    else if (v->phase != BP_FLOOR_OFF && v->fit.over > 0)
        snprintf(line, sizeof line, "TOO LONG BY %s, even at its shortest: drop a beat",
                 bpi_face_time(time, v->fit.over, false));
    else if (v->phase != BP_FLOOR_OFF && v->fit.over < 0)
        snprintf(line, sizeof line, "SHORT BY %s, even at its longest",
                 bpi_face_time(time, -v->fit.over, false));
    else if (v->fit.stranded)
        snprintf(line, sizeof line, "a beat that must stay has lost one that it needs");
    else if (!put_late(line, sizeof line, f) && !put_way(line, sizeof line, f))
        put_camera_late(line, sizeof line, f);
    if (!line[0])
        return;
    bpi_grid_fill(g, row, 0, g->columns, ' ', BPI_REVERSE);
    bpi_grid_put(g, row, 1, g->columns - 2, line, BPI_REVERSE);
}
