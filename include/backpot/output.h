/* backpot/output.h - the papers, pictures, calendars and data of a plan.
 *
 * Each writer turns one plan into bytes; nothing here touches a file but bp_outputs_save, which
 * writes a whole set atomically.
 */
#ifndef BP_OUTPUT_H
#define BP_OUTPUT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "backpot/error.h"
#include "backpot/plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* number, name on the command line, file name */
#define BP_OUTPUTS(X)                                                                              \
    X(BP_OUT_CUE_SHEET, "cue-sheet", "cue-sheet.pdf")                                              \
    X(BP_OUT_PREP_SHEET, "prep-sheet", "prep-sheet.pdf")                                           \
    X(BP_OUT_TIMELINE_PDF, "timeline-pdf", "timeline.pdf")                                         \
    X(BP_OUT_TIMELINE_SVG, "timeline-svg", "timeline.svg")                                         \
    X(BP_OUT_CHANCE, "chance", "chance.pdf")                                                       \
    X(BP_OUT_LABELS, "labels", "labels.pdf")                                                       \
    X(BP_OUT_TRAY_MAP, "tray-map", "tray-map.pdf")                                                 \
    X(BP_OUT_TRAY_TEXT, "tray-text", "tray-map.txt")                                               \
    X(BP_OUT_STRIKE_SHEET, "strike-sheet", "strike-list.pdf")                                      \
    X(BP_OUT_STRIKE_TEXT, "strike-list", "strike-list.txt")                                        \
    X(BP_OUT_PACK_SHEET, "pack-sheet", "pack-list.pdf")                                            \
    X(BP_OUT_PACK_TEXT, "pack-list", "pack-list.txt")                                              \
    X(BP_OUT_PACK_CSV, "pack-csv", "pack-list.csv")                                                \
    X(BP_OUT_PULL_SHEET, "pull-sheet", "pull-list.pdf")                                            \
    X(BP_OUT_PULL_TEXT, "pull-list", "pull-list.txt")                                              \
    X(BP_OUT_PULL_CSV, "pull-csv", "pull-list.csv")                                                \
    X(BP_OUT_CALENDAR, "calendar", "prep.ics")                                                     \
    X(BP_OUT_JSON, "json", "plan.json")

#define BP_AS_ENUM(number, name, file) number,
typedef enum { BP_OUTPUTS(BP_AS_ENUM) BP_NOUTPUTS } bp_output;
#undef BP_AS_ENUM

/* A file ready to be saved. BP_OUT_CALENDAR yields several: prep.ics and prep-COOK.ics. */
typedef struct bp_file {
    char name[64];
    const char *bytes;
    size_t len;
} bp_file;

typedef struct bp_files {
    uint32_t n;
    const bp_file *file;
    void *own;
} bp_files;

typedef enum bp_paper { BP_PAPER_OF_SHOW, BP_PAPER_A4, BP_PAPER_LETTER } bp_paper;

/* An all-zero value means the defaults. */
typedef struct bp_output_options {
    uint32_t leave_out; /* bit 1 << bp_output: not wanted                          */
    bp_paper paper;
    const char *folder; /* where an earlier run's calendars stand, to raise SEQUENCE only where an
                            event changed and to cancel what is gone; NULL: none    */
} bp_output_options;

/* Make the files of a plan.
 *
 * Owner   *out is new, release it with bp_files_free; NULL on failure.
 * Errors  BP_ENOMEM; BP_EIO (a font is missing, or an earlier calendar cannot be read);
 *         BP_ERANGE (a date that a calendar cannot hold).
 */
bp_code bp_outputs_write(bp_files **out, const bp_plan *plan, const bp_output_options *options,
                         bp_errors *errs);
void bp_files_free(bp_files *files); /* NULL does nothing */

/* Save files into `folder` (made where it is missing) so that after any failure each file there is
 * either the old one, whole, or the new one, whole. Errors: BP_EIO, BP_ENOMEM. */
bp_code bp_outputs_save(const bp_files *files, const char *folder, bp_errors *errs);

/* An all-zero value means the defaults. Texts are as people write a slot: "0:40", "40 s". */
typedef struct bp_lengths_options {
    const char *lose; /* losses to tell of, at most 4 with commas between; NULL: 0:30, 1:00, 1:30 */
    const char *slot; /* tell of this length alone, beat by beat; NULL: of all               */
} bp_lengths_options;

/* What each slot becomes at every length, and when time is lost on air; for a terminal, like the
 * summary. Owner: *out is new and ends in NUL, release it with bp_free. Errors: BP_EVALUE (an option
 * is no length), BP_EUNSURE, BP_ENOMEM. */
bp_code bp_lengths_write(char **out, size_t *len, const bp_plan *plan,
                         const bp_lengths_options *options, bp_errors *errs);

/* The summary a person would read out, for a terminal; without control characters but newline.
 * Owner: *out is new and ends in NUL, release it with bp_free. Errors: BP_ENOMEM. */
bp_code bp_summary_write(char **out, size_t *len, const bp_plan *plan, bp_errors *errs);

#ifdef __cplusplus
}
#endif
#endif
