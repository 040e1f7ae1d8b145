/* src/out/json.h - the whole plan as plan.json, for other programs.
 *
 * Owns     the shape, which src/out/plan.schema.json describes.
 * May use  base/, out/jput, out/moment; reads the plan.
 *
 * Every member of bp_plan (backpot/plan.h) stands under its own name, but `own`. A slice becomes the
 * list of what it names: indices into the array of the plan. A moment becomes {"t": plan seconds,
 * "local": ISO 8601 with offset}; no index, no moment and no temperature become null; kinds, stages,
 * roles, weights and the verdict become words. Numbers of work past 2^53 lose digits in readers that
 * keep numbers as doubles (RFC 8259 6); nothing else comes near.
 */
#ifndef BP_OUT_JSON_H
#define BP_OUT_JSON_H

#include "backpot/plan.h"
#include "base/error.h"
#include "base/text.h"

/* Append the object and a line feed. Errors: BP_ERANGE, BP_EVALUE (no clock, out/moment.h),
 * BP_ENOMEM; `out` may then hold a part. */
bp_code bpi_json_write(bpi_text *out, const bp_plan *plan, bp_errors *errs);

#endif
