/* src/base/limits.h - every size bound of the program, with its reason.
 *
 * Tests stand on both sides of each. -DBPI_SMALL makes first sizes tiny, so that the paths which
 * grow a store are walked by every test.
 */
#ifndef BP_BASE_LIMITS_H
#define BP_BASE_LIMITS_H

/* First sizes: performance only. */
#ifdef BPI_SMALL
#define BPI_ARENA_BLOCK 64
#define BPI_LIST_FIRST  1
#define BPI_TEXT_FIRST  8
#else
#define BPI_ARENA_BLOCK 65536
#define BPI_LIST_FIRST  16
#define BPI_TEXT_FIRST  256
#endif

#define BPI_MAX_FILE     (8u << 20) /* bytes of a show or recipe file: 100 times the largest shipped  */
#define BPI_MAX_DEPTH    32     /* nesting of JSON: a show needs 8                                */
#define BPI_MAX_VALUES   400000 /* JSON values in one file: bounds memory to about 300 bytes each */
#define BPI_MAX_STEPS    64     /* steps of a recipe: a stage is one 64-bit set of them           */
#define BPI_MAX_RECIPES  64     /* recipes of a show                                              */
#define BPI_MAX_COOKS    16     /* a small crew; a proof of optimality grows with each            */
#define BPI_MAX_BEATS    64     /* beats of a segment: a slot is minutes long                     */
#define BPI_MAX_SEGMENTS 16     /* segments of a production day                                   */
#define BPI_MAX_HITS     8      /* times one segment is hit again in a morning                    */
#define BPI_MAX_LIST     256    /* members of any other list in a show file                       */
#define BPI_MAX_TEXT     2000   /* bytes of one text in a show file: a page of words              */
#define BPI_MAX_SWAPS    128    /* swap-outs of a plan: codes stay two or three characters        */
#define BPI_MAX_OPS      4000   /* prep operations of a plan                                      */
#define BPI_MAX_DAYS     7      /* days before the show day that a clock time may reach           */
#define BPI_MIN_YEAR     1970   /* zone data is trusted from here ...                             */
#define BPI_MAX_YEAR     2037   /* ... to here: later offsets of libical 3.0 differ from tzdata's */

#endif
