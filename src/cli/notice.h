/* src/cli/notice.h - what must not be overlooked while a slot is on air.
 *
 * Owns     which of it is worst: that alone stands on the line.
 * May use  the public headers, cli/face, cli/grid.
 */
#ifndef BP_CLI_NOTICE_H
#define BP_CLI_NOTICE_H

#include "cli/face.h"

/* Draws nothing where there is nothing to tell. */
void bpi_notice_draw(bpi_grid *g, int row, const bpi_face *face);

#endif
