/* backpot/backpot.h - the whole library. */
#ifndef BP_BACKPOT_H
#define BP_BACKPOT_H

#include "backpot/after.h"
#include "backpot/day.h"
#include "backpot/draft.h"
#include "backpot/engine.h"
#include "backpot/error.h"
#include "backpot/floor.h"
#include "backpot/kitchen.h"
#include "backpot/mend.h"
#include "backpot/output.h"
#include "backpot/plan.h"
#include "backpot/risk.h"
#include "backpot/show.h"
#include "backpot/slot.h"

#endif
