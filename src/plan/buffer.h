/* src/plan/buffer.h - time allowed to steps beyond their likely length, so that a plan holds.
 *
 * Owns     nothing.
 * May use  plan/fill, model/, base/.
 *
 * A buffered plan is a plan of the show with longer likely times; the show as written says how long
 * the steps may really take.
 */
#ifndef BP_PLAN_BUFFER_H
#define BP_PLAN_BUFFER_H

#include "plan/fill.h"

/* The show with each buffer added to its step. In `a`, sharing with `show` what is the same. NULL: no
 * memory, or *wrong names the buffer of a step that is not there, is not uncertain, or never takes
 * so long. */
const bpi_show *bpi_buffer_show(bpi_arena *a, const bpi_show *show, const bp_buffer *buffer,
                                uint32_t n, const bp_buffer **wrong);

/* One try: a plan of `show` with these buffers. NULL with BP_OK: none exists, or none was found. */
typedef bp_code bpi_buffer_try(bp_plan **out, void *ctx, const bp_buffer *buffer, uint32_t n,
                               uint64_t *loss);

/* Lengthen steps, a minute at a time, where the simulation shows the loss, and plan again, until
 * *plan holds on `asked` days of a hundred; else leave the best that was reached. `loss` has the late
 * days of each step of *plan: recipes x BPI_MAX_STEPS. Errors: BP_ENOMEM and those of a try. */
bp_code bpi_buffer_make(bp_plan **plan, const bpi_show *show, uint32_t asked, uint64_t *loss,
                        bpi_buffer_try *try_plan, void *ctx, bp_errors *errs);

#endif
