# backpot: build, test, install. All output goes under build/. `make help` lists the targets.

# Where things are installed.
PREFIX  ?= /usr/local
DESTDIR ?=

# Compiler and its flags; OPT is what a packager may want to change.
CC  ?= cc
OPT ?= -O2 -g

# Sanitizers for a build of its own, such as SAN=address,undefined or SAN=thread.
SAN ?=
# SMALL=1: tiny first sizes, so that every growing store grows in every test.
SMALL ?=
# EACH=1: one heap block for each arena request.
EACH ?=

VERSION := 0.1.0

comma   := ,
VARIANT := $(if $(SAN),-$(subst $(comma),-,$(SAN)))$(if $(SMALL),-small)$(if $(EACH),-each)
B       := build$(if $(VARIANT),/variant$(VARIANT))

PACKAGES := libical libcjson pangocairo cairo-pdf cairo-svg fontconfig uuid
PKG_CFLAGS = $(shell pkg-config --cflags $(PACKAGES))
PKG_LIBS   = $(shell pkg-config --libs $(PACKAGES)) -lm
TEST_LIBS  = $(shell pkg-config --libs check)

WARN := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes -Wmissing-prototypes \
        -Wpointer-arith -Wcast-align -Wwrite-strings -Wvla -Wformat=2 -Wundef \
        -Werror=implicit-function-declaration
CPPFLAGS_ALL = -D_POSIX_C_SOURCE=200809L -DBP_VERSION='"$(VERSION)"' -Iinclude -Isrc \
        $(if $(SMALL),-DBPI_SMALL) $(if $(EACH),-DBPI_ARENA_EACH) $(CPPFLAGS)
CFLAGS_ALL   = -std=c11 $(OPT) -fPIC -fstack-protector-strong -fno-strict-overflow $(WARN) \
        $(if $(SAN),-fsanitize=$(SAN) -fno-omit-frame-pointer -fno-sanitize-recover=all) \
        $(PKG_CFLAGS) $(CFLAGS)
LDFLAGS_ALL  = $(if $(SAN),-fsanitize=$(SAN)) $(LDFLAGS)

LIB_SRC  := $(sort $(filter-out src/cli/%,$(wildcard src/*/*.c)))
CLI_SRC  := $(sort $(wildcard src/cli/*.c))
TEST_SRC := $(sort $(wildcard tests/*/test_*.c))
HELP_SRC := $(sort $(wildcard tests/support/*.c))

LIB_OBJ  := $(LIB_SRC:%.c=$(B)/o/%.o)
CLI_OBJ  := $(CLI_SRC:%.c=$(B)/o/%.o)
# The tests link a library of their own, with the hooks of BPI_TESTING.
TLIB_OBJ := $(LIB_SRC:%.c=$(B)/t/%.o)
TEST_OBJ := $(TEST_SRC:%.c=$(B)/t/%.o) $(HELP_SRC:%.c=$(B)/t/%.o) $(B)/t/tests/run.o
SUITES   := $(subst /,_,$(patsubst tests/%.c,%,$(subst /test_,/,$(TEST_SRC))))

.PHONY: all test test-unit clean
.DELETE_ON_ERROR:

all: $(B)/backpot

$(B)/backpot: $(CLI_OBJ) $(B)/libbackpot.a
	$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS)

$(B)/libbackpot.a: $(LIB_OBJ)
	rm -f $@
	ar rcs $@ $^

$(B)/o/%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(CPPFLAGS_ALL) $(CFLAGS_ALL) -MMD -MP -c -o $@ $<

$(B)/t/%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(CPPFLAGS_ALL) -DBPI_TESTING -Itests -I$(B)/t $(CFLAGS_ALL) -MMD -MP -c -o $@ $<

# One line a test file; rewritten only when the list changes.
$(B)/t/suites.h: FORCE
	@mkdir -p $(@D)
	@printf 'X(%s)\n' $(SUITES) > $@.new
	@cmp -s $@ $@.new && rm $@.new || mv $@.new $@
FORCE:

$(B)/t/tests/run.o: $(B)/t/suites.h

$(B)/tests: $(TEST_OBJ) $(TLIB_OBJ)
	$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS) $(TEST_LIBS)

test: test-unit

# SUITE=engine_solve runs one suite.
test-unit: $(B)/tests
	$(B)/tests $(SUITE)

clean:
	rm -rf build

-include $(shell find $(B) -name '*.d' 2>/dev/null)
