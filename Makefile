# backpot: build, test, install. All output goes under build/. `make help` lists the targets.

# Where things are installed.
PREFIX  ?= /usr/local
DESTDIR ?=

# Compiler and its flags; OPT is what a packager may want to change. Another compiler, such as
# CC=clang-14, gets a build of its own.
CC  ?= cc
OPT ?= -O2 -g

# Sanitizers for a build of its own, such as SAN=address,undefined or SAN=thread.
SAN ?=
# SMALL=1: tiny first sizes, so that every growing store grows in every test.
SMALL ?=
# EACH=1: one heap block for each arena request.
EACH ?=
# BRIEF=1: a planner that is content sooner, for builds in which everything is slow. Its plans are others.
BRIEF ?=
# WERROR=1: warnings stop the build. For lint, not for users: a newer compiler warns of more.
WERROR ?=
# TWIN=: run the unit tests once, not a second time as built with SMALL=1 EACH=1.
TWIN ?= 1
# COVER=1: count which lines run.
COVER ?=
# SHARE=4: one in four of what the tests make up from seeds, or try at every turn; 1: all of it.
SHARE ?= $(if $(SAN),4,1)
# V=1: show each command in full.
V ?=

# How many states of a function clang's analyser follows; fewer where time is short.
NODES ?= 225000

# The show that `make demo` plans.
SHOW ?= shows/harbour-breakfast.json
# What `make fuzz` explores (tests/fuzz/fuzz_NAME.c; empty: each in turn) and for how long.
FUZZ    ?=
SECONDS ?= 60

VERSION := 0.1.0
# Number of the binary interface: raised when a program built against an older library would break.
SONAME  := libbackpot.so.0

# Debian packages: to build; to test; to lint and measure.
DEB_BUILD := pkg-config libical-dev libcjson-dev libpango1.0-dev libcairo2-dev libfontconfig-dev \
             uuid-dev libncurses-dev fonts-dejavu-core tzdata
DEB_TEST  := check python3 python3-jsonschema python3-icalendar python3-vobject php-cli \
             php-sabre-vobject qpdf poppler-utils librsvg2-bin groff man-db zsh tmux
DEB_LINT  := clang-14 clang-format-14 clang-tidy-14 libclang-rt-14-dev cppcheck shellcheck gcovr \
             valgrind

comma   := ,
# A compiler other than the system's own shows in the name of the build.
OTHER   := $(filter-out cc gcc,$(notdir $(firstword $(CC))))
VARIANT := $(if $(OTHER),-$(OTHER))$(if $(SAN),-$(subst $(comma),-,$(SAN)))$(if \
           $(WERROR),-werror)$(if $(COVER),-cover)$(if $(BRIEF),-brief)$(if $(SMALL),-small)$(if $(EACH),-each)
B       := build$(if $(VARIANT),/variant$(VARIANT))

# pkg-config runs once, and only when something is compiled: `make deps` must work without it.
PACKAGES   := libical libcjson pangocairo cairo-pdf cairo-svg fontconfig uuid
PKG_CFLAGS = $(eval PKG_CFLAGS := $$(shell pkg-config --cflags $$(PACKAGES)))$(PKG_CFLAGS)
PKG_LIBS   = $(eval PKG_LIBS := $$(shell pkg-config --libs $$(PACKAGES)) -lm)$(PKG_LIBS)
# The program alone draws on a terminal.
CLI_LIBS   = $(eval CLI_LIBS := $$(shell pkg-config --libs ncursesw))$(CLI_LIBS)
TEST_LIBS  = $(eval TEST_LIBS := $$(shell pkg-config --libs check))$(TEST_LIBS)

WARN := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes -Wmissing-prototypes \
        -Wpointer-arith -Wcast-align -Wwrite-strings -Wvla -Wformat=2 -Wundef \
        -Werror=implicit-function-declaration $(if $(WERROR),-Werror)
# What makes a mistake of ours harder to use: checked copies, guarded stacks, jumps that land only
# where they may, a program that lies anywhere and whose tables are read-only once it runs. Under a
# sanitizer, which checks more, and without optimising some of it cannot be had. HARDEN= leaves it out.
MACHINE    = $(eval MACHINE := $$(shell $$(CC) -dumpmachine))$(MACHINE)
HARDEN    ?= -fstack-protector-strong -fstack-clash-protection $(if $(filter x86_64-% i%86-%,$(MACHINE)),-fcf-protection) \
             $(if $(SAN)$(COVER)$(filter -O0,$(OPT)),,-U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=2)
HARDEN_LD ?= -Wl,-z,relro -Wl,-z,now -Wl,-z,noexecstack
# Offsets and inode numbers of 64 bits: without, a folder on a large file system reads as an error where
# words have 32.
CPPFLAGS_ALL = -D_POSIX_C_SOURCE=200809L -D_FILE_OFFSET_BITS=64 -DBP_VERSION='"$(VERSION)"' -Iinclude -Isrc -I$(B)/gen \
        $(if $(SMALL),-DBPI_SMALL) $(if $(EACH),-DBPI_ARENA_EACH) $(if $(BRIEF),-DBPI_BRIEF) $(CPPFLAGS)
CFLAGS_ALL   = -std=c11 $(OPT) -fPIC -pthread $(HARDEN) -fno-strict-overflow $(WARN) \
        $(if $(SAN),-fsanitize=$(SAN) -fno-omit-frame-pointer -fno-sanitize-recover=all) \
        $(if $(COVER),--coverage -fprofile-update=atomic) $(PKG_CFLAGS) $(CFLAGS)
LDFLAGS_ALL  = -pthread $(if $(SAN),-fsanitize=$(SAN:fuzzer-no-link%=fuzzer%)) $(if $(COVER),--coverage) \
        $(HARDEN_LD) $(LDFLAGS)

# LAYERS="base engine ...": these alone, for the tests on other machines, where not all libraries are; the
# suites of plan write outputs, so they are left out there.
LAYERS   ?=
LIB_SRC  := $(sort $(filter-out src/cli/%,$(wildcard $(if $(LAYERS),$(LAYERS:%=src/%/*.c),src/*/*.c))))
CLI_SRC  := $(if $(LAYERS),,$(sort $(wildcard src/cli/*.c)))
TEST_SRC := $(sort $(wildcard $(if $(LAYERS),$(patsubst %,tests/%/test_*.c,$(filter-out plan,$(LAYERS))),tests/*/test_*.c)))
HELP_SRC := $(sort $(wildcard tests/support/*.c))
FUZZ_SRC := $(sort $(wildcard tests/fuzz/fuzz_*.c))
HEADERS  := $(sort $(wildcard include/backpot/*.h src/*/*.h tests/*/*.h))
SCRIPTS  := $(sort $(wildcard tests/*.sh tests/*/*.sh) .ci/run)
ALL_C    := $(LIB_SRC) $(CLI_SRC) $(TEST_SRC) $(HELP_SRC) \
            $(sort $(wildcard tests/*.c tests/fuzz/*.c tests/outside/*.c tests/bench/*.c \
            tests/faults/*.c tests/threads/*.c))

LIB_OBJ  := $(LIB_SRC:%.c=$(B)/o/%.o)
CLI_OBJ  := $(CLI_SRC:%.c=$(B)/o/%.o)
# The tests link a library of their own, with the hooks of BPI_TESTING; the program's parts are in
# it too, but for its main. Of an archive the linker takes only what a test asks for.
TLIB_OBJ := $(LIB_SRC:%.c=$(B)/t/%.o) $(patsubst %.c,$(B)/t/%.o,$(filter-out %/main.c,$(CLI_SRC)))
TEST_OBJ := $(TEST_SRC:%.c=$(B)/t/%.o) $(HELP_SRC:%.c=$(B)/t/%.o) $(B)/t/tests/run.o
SUITES   := $(subst /,_,$(patsubst tests/%.c,%,$(subst /test_,/,$(TEST_SRC))))
# One program for each fuzz entry, which runs it over the inputs it is given.
REPLAYS  := $(FUZZ_SRC:tests/fuzz/fuzz_%.c=$(B)/replay/%)

# What a test run tells the sanitizers: reports end the program; what the font and zone libraries
# keep until exit is no leak of ours.
# The address sanitizer by default maps pages anew to forget a large block; most of a run's time went there.
export ASAN_OPTIONS  := clear_shadow_mmap_threshold=1073741824
export UBSAN_OPTIONS := print_stacktrace=1:halt_on_error=1
export LSAN_OPTIONS  := suppressions=$(CURDIR)/tests/lsan.supp:print_suppressions=0

# No test asserts a speed: a slow machine, or valgrind, has all the time it needs.
export CK_DEFAULT_TIMEOUT := 300

# A short line in place of each long command.
say = $(if $(V),,@echo '  $(1) $(or $(2),$@)';)

.DELETE_ON_ERROR:
.SECONDARY:
.PHONY: FORCE

# ---- build -------------------------------------------------------------------------------------

.PHONY: all lib
all: $(B)/backpot lib ## build the program and both libraries
# (A library that waits for the sanitizers of its program cannot be linked by itself.)
lib: $(B)/libbackpot.a $(if $(SAN),,$(B)/$(SONAME))

$(B)/backpot: $(CLI_OBJ) $(B)/libbackpot.a
	$(call say,link)$(CC) $(LDFLAGS_ALL) -pie -o $@ $^ $(PKG_LIBS) $(CLI_LIBS)

$(B)/libbackpot.a: $(LIB_OBJ) $(B)/sources
	@rm -f $@
	$(call say,ar)ar rcs $@ $(LIB_OBJ)

# Only the names of the public headers leave the shared library.
$(B)/$(SONAME): $(LIB_OBJ) $(B)/sources src/backpot.map
	$(call say,link)$(CC) $(LDFLAGS_ALL) -shared -Wl,-soname,$(SONAME) \
	  -Wl,--version-script=src/backpot.map -Wl,--no-undefined -o $@ $(LIB_OBJ) $(PKG_LIBS)

$(B)/o/%.o: %.c $(B)/flags
	@mkdir -p $(@D)
	$(call say,cc,$<)$(CC) $(CPPFLAGS_ALL) $(CFLAGS_ALL) -MMD -MP -c -o $@ $<

$(B)/t/%.o: %.c $(B)/flags
	@mkdir -p $(@D)
	$(call say,cc,$<)$(CC) $(CPPFLAGS_ALL) -DBPI_TESTING -Itests -I$(B)/t $(CFLAGS_ALL) -MMD -MP -c -o $@ $<

# The schema of a show file, byte by byte for a C array: one text may not be longer than 4095.
$(B)/gen/model/schema.inc: src/model/schema.json
	@mkdir -p $(@D)
	@od -An -v -tu1 $< | sed 's/[0-9][0-9]*/&,/g' > $@
$(B)/o/src/model/schema.o $(B)/t/src/model/schema.o: $(B)/gen/model/schema.inc

# The sets of safety limits that are built in, each a C array, and a table of them by name.
LIMIT_SETS := $(sort $(wildcard src/model/limits/*.json))
$(B)/gen/model/limits.inc: $(LIMIT_SETS)
	@mkdir -p $(@D)
	@n=0; all=; for f in $(LIMIT_SETS); do \
	  printf 'static const unsigned char set_%d[] = {' $$n; \
	  od -An -v -tu1 $$f | sed 's/[0-9][0-9]*/&,/g'; printf '};\n'; \
	  all="$$all {\"$$(basename $$f .json)\", set_$$n, sizeof set_$$n},"; n=$$((n + 1)); \
	done > $@; printf '#define BPI_LIMIT_FILES %s\n' "$$all" >> $@
$(B)/o/src/model/limitset.o $(B)/t/src/model/limitset.o: $(B)/gen/model/limits.inc

# Files that remember how the last build was made, and are rewritten only when that changes: other
# flags build everything anew, a source file that is gone leaves the library.
keep = @mkdir -p $(@D); printf '%s\n' $(1) > $@.new; cmp -s $@ $@.new && rm $@.new || mv $@.new $@
$(B)/flags: FORCE
	$(call keep,'$(subst ','\'',$(CC) $(CPPFLAGS_ALL) $(CFLAGS_ALL))')
$(B)/sources: FORCE
	$(call keep,$(LIB_SRC) $(CLI_SRC))
# One line a test file.
$(B)/t/suites.h: FORCE
	$(call keep,$(patsubst %,'X(%)',$(SUITES)))

$(B)/t/tests/run.o: $(B)/t/suites.h

# Writes the files of the sample plan, for the checks by other programs.
$(B)/samples: $(B)/t/tests/outside/samples.o $(B)/t/tests/support/plan_sample.o $(B)/t/libtests.a
	$(call say,link)$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS)

# Preloaded into the program, it refuses memory and makes system calls fail.
$(B)/faults.so: tests/faults/preload.c
	@mkdir -p $(@D)
	$(call say,link)gcc -std=c11 -O2 -Wall -Wextra -fPIC -shared -fno-builtin -o $@ $<

# Plans shows again and again, each time without some memory.
$(B)/memory-faults: $(B)/t/tests/faults/memory.o $(B)/t/libtests.a
	$(call say,link)$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS)

# Plans shows in two threads at once.
$(B)/two-shows: $(B)/t/tests/threads/two_shows.o $(B)/libbackpot.a
	$(call say,link)$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS)

$(B)/t/libtests.a: $(TLIB_OBJ) $(B)/sources
	@rm -f $@
	$(call say,ar)ar rcs $@ $(TLIB_OBJ)

$(B)/tests: $(TEST_OBJ) $(B)/t/libtests.a
	$(call say,link)$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS) $(CLI_LIBS) $(TEST_LIBS)

$(B)/replay/%: $(B)/t/tests/fuzz/fuzz_%.o $(B)/t/tests/fuzz/replay.o \
               $(B)/t/tests/support/small_problem.o $(B)/t/libtests.a
	@mkdir -p $(@D)
	$(call say,link)$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS)

-include $(shell find $(B) -name cross -prune -o -type f -name '*.d' -print 2>/dev/null)

# ---- set-up ------------------------------------------------------------------------------------

# Install those of the packages that are missing. Says nothing when none is; asks nothing.
need = @sh tests/need.sh $(1)
.PHONY: deps deps-test deps-lint
deps: ## install what the build needs (Debian; as root or with sudo)
	$(call need,$(DEB_BUILD))
deps-test: ## install what the tests need
	$(call need,$(DEB_BUILD) $(DEB_TEST))
deps-lint: ## install what lint, valgrind, fuzz and coverage need
	$(call need,$(DEB_BUILD) $(DEB_TEST) $(DEB_LINT))

# ---- show --------------------------------------------------------------------------------------

# Each of these installs first and then starts anew, for only then can pkg-config answer.
again = @+$(MAKE) --no-print-directory

.PHONY: demo demo-run
demo: deps ## set up, build, and plan a shipped show into build/demo
	$(again) demo-run
demo-run: $(B)/backpot
	@mkdir -p build
	$(B)/backpot plan $(SHOW) -o build/demo
	@echo; echo "The whole plan of $(SHOW) is in build/demo:"; ls build/demo

.PHONY: pictures pictures-run
pictures: deps-test ## the README's pictures, anew from the shipped show
	$(again) pictures-run
pictures-run: $(B)/backpot
	$(B)/backpot plan $(SHOW) -q -o build/pictures
	@mkdir -p shows/pictures
	pdftoppm -r 80 -png -singlefile build/pictures/timeline.pdf shows/pictures/timeline
	pdftoppm -r 80 -png -singlefile build/pictures/cue-sheet.pdf shows/pictures/cue-sheet

# ---- test --------------------------------------------------------------------------------------

.PHONY: test test-run test-unit
test: deps-test ## set up, build and run every test (SAN=address,undefined for sanitizers)
	$(again) $(B)/tests $(B)/samples all $(REPLAYS) $(B)/memory-faults $(B)/faults.so \
	  $(B)/two-shows
	$(if $(TWIN),$(again) SMALL=1 EACH=1 build-tests)
	$(again) test-run
test-run:
	@BACKPOT=$(CURDIR)/$(B)/backpot SRC=$(CURDIR) REPLAY=$(CURDIR)/$(B)/replay BUILD=$(CURDIR)/$(B) \
	  SAN='$(SAN)' SHARE='$(SHARE)' BRIEF='$(BRIEF)' sh tests/run.sh $(B)/tests $(call twin,tests)
.PHONY: build-tests
build-tests: $(B)/tests
# The same file of the build with SMALL=1 EACH=1.
twin = $(if $(SMALL)$(EACH)$(if $(TWIN),,no),,build/variant$(VARIANT)-small-each/$(1))

test-unit: $(B)/tests ## the unit tests alone; SUITE=engine_solve runs one suite
	$(B)/tests $(SUITE)

.PHONY: golden
golden: all ## rewrite the accepted outputs in tests/golden; read the difference like code
	@BACKPOT=$(CURDIR)/$(B)/backpot SRC=$(CURDIR) sh tests/scripts/golden.sh rewrite

.PHONY: promises
promises: all ## add to tests/promises what is new in files and commands, to be kept from now on
	@/usr/bin/python3 -B tests/outside/promises.py $(B)/backpot . rewrite

.PHONY: valgrind
valgrind: deps-lint ## plan every shipped show under valgrind; any fault or leak fails
	$(again) $(B)/backpot
	@BACKPOT=$(CURDIR)/$(B)/backpot SRC=$(CURDIR) sh tests/valgrind.sh

# Exchange one token of a core layer, MUTANTS times: do the tests notice? (MUTANTS=short: eight.) What the tool
# asks: how one file is compiled and linked for the tests and for the program, and where they are.
MUTANTS ?= 240
.PHONY: mutants mutants-compile-tests mutants-link-tests mutants-built-tests mutants-compile-program \
        mutants-link-program mutants-built-program mutants-suites
mutants: deps-test ## break the core by one token 240 times, and say what share the tests notice
	$(again) $(B)/tests all
	/usr/bin/python3 -B tests/mutants/mutants.py . $(MUTANTS)
mutant_cc = $(subst ','\'',$(CC) $(patsubst -I%,-I$(CURDIR)/%,$(CPPFLAGS_ALL)) $(CFLAGS_ALL) -O1)
mutants-compile-tests:
	@echo '$(mutant_cc) -DBPI_TESTING'
mutants-compile-program:
	@echo '$(mutant_cc)'
mutants-link-tests:
	@echo '$(CC) $(LDFLAGS_ALL) -o PROGRAM OBJECT $(TEST_OBJ) $(B)/t/libtests.a $(PKG_LIBS) $(CLI_LIBS) $(TEST_LIBS)'
mutants-link-program:
	@echo '$(CC) $(LDFLAGS_ALL) -pie -o PROGRAM OBJECT $(CLI_OBJ) $(B)/libbackpot.a $(PKG_LIBS) $(CLI_LIBS)'
mutants-built-tests:
	@echo $(B)/tests
mutants-built-program:
	@echo $(B)/backpot
mutants-suites:
	@echo $(SUITES)

.PHONY: faults faults-run
faults: deps-test ## memory and files fail at every turn (FAULT_FEW=1: half a minute; FAULT_STRIDE=1: half an hour)
	$(again) faults-run
faults-run: all $(B)/memory-faults $(B)/faults.so
	@BACKPOT=$(CURDIR)/$(B)/backpot SRC=$(CURDIR) BUILD=$(CURDIR)/$(B) SAN='$(SAN)' sh tests/faults/faults.sh

# s390x has its most significant byte first; armhf has 32 bits and a char without a sign.
MACHINES     ?= s390x armhf
CROSS_LAYERS ?= base model goods safety live engine risk prep plan
.PHONY: cross
cross: ## the unit tests below the outputs on other kinds of machine (MACHINES), by qemu-user
	@for m in $(MACHINES); do echo "$$m:"; SRC=$(CURDIR) sh tests/cross.sh $$m $(CROSS_LAYERS) || exit 1; done

.PHONY: tsan tsan-run
tsan: deps-test ## two shows planned at once under ThreadSanitizer: no race, the same bytes as alone
	$(again) SAN=thread tsan-run
tsan-run: $(B)/two-shows
	TSAN_OPTIONS=suppressions=$(CURDIR)/tests/tsan.supp:halt_on_error=1:second_deadlock_stack=1 \
	  $(B)/two-shows 2 $(sort $(wildcard shows/*.json))

# Both builds count: one heap block for each request reaches what must be done when it is refused. So does
# a plan that is refused memory. The other side of an assertion is a mistake of ours that ends the program:
# no test can take it.
GCOVR := gcovr --root .
.PHONY: coverage coverage-run
coverage: deps-lint ## lines and branches run by the tests, into build/coverage
	$(again) COVER=1 test
	$(again) COVER=1 coverage-run
coverage-run: $(B)/memory-faults
	$(B)/memory-faults 199 shows/harbour-breakfast.json shows/one-burner-too-few.json
	@mkdir -p build/coverage
	for b in $(B) $(call twin,); do $(GCOVR) --filter src/ --filter include/ \
	  --exclude-unreachable-branches --exclude-branches-by-pattern '\s*assert\(' \
	  --object-directory $$b --json $$b/coverage.json $$b || exit 1; done
	$(GCOVR) -a $(B)/coverage.json $(patsubst %,-a %coverage.json,$(call twin,)) \
	  --json build/coverage/all.json --html-details build/coverage/index.html
	@$(GCOVR) -a build/coverage/all.json --txt -
	@$(GCOVR) -a build/coverage/all.json --branches --txt -
	@# (Into a file: gcovr removes what it writes to, and would take the null device from the system.)
	@for d in src/*/; do echo "$$d" $$($(GCOVR) -a build/coverage/all.json --filter "$$d" \
	  --txt build/coverage/layer.txt --print-summary); done

.PHONY: fuzz fuzz-run
fuzz: deps-lint ## explore a reader for SECONDS (FUZZ=NAME; a crash becomes a file of the corpus)
	$(again) CC=clang-14 SAN=fuzzer-no-link,address,undefined fuzz-run
# With make -j as many targets at once.
fuzz-run: $(patsubst %,fuzz-run-%,$(or $(FUZZ),$(FUZZ_SRC:tests/fuzz/fuzz_%.c=%)))
fuzz-run-%: $(B)/fuzz/%
	@mkdir -p build/fuzz/$*; echo "$*:"
	@$< -max_total_time=$(SECONDS) -timeout=10 -rss_limit_mb=2048 -print_final_stats=1 \
	  -artifact_prefix=build/fuzz/$*- build/fuzz/$* tests/fuzz/corpus/$* > build/fuzz/$*.log 2>&1 \
	  || { cat build/fuzz/$*.log; exit 1; }
	@sed -n -e '/ DONE /p' -e '/number_of_executed_units/s/^/$*: /p' build/fuzz/$*.log
$(B)/fuzz/%: $(B)/t/tests/fuzz/fuzz_%.o $(B)/t/tests/support/small_problem.o $(B)/t/libtests.a
	@mkdir -p $(@D)
	$(call say,link)$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS)

# ---- benchmarks --------------------------------------------------------------------------------

# Where the published sets lie: a folder with rcpsp/ and rcpsp-max/ in it, each set with its
# instances.tar.xz and best-known.csv. They state no licence, so they are not part of this repository.
BENCH ?=
# `make bench` solves every EVERY-th instance of a set, SECONDS_EACH at most.
EVERY ?= 20
SECONDS_EACH ?= 10
# Names of the sets to solve; none: all of them.
SETS ?=

.PHONY: bench bench-full bench-beside bench-days bench-growth bench-risk bench-shows
bench: $(B)/engine-bench ## solve a sample of the published sets in the folder BENCH
	@[ -n "$(BENCH)" ] && [ -d "$(BENCH)" ] || { echo "name the folder of the published sets:" \
	  "make bench BENCH=folder (it holds rcpsp/j30/instances.tar.xz and so on)"; exit 2; }
	@sh tests/bench/run.sh $(B)/engine-bench $(BENCH) build/bench $(EVERY) $(SECONDS_EACH) $(SETS)
bench-full: ## solve all of the published sets in the folder BENCH; takes hours
	@+$(MAKE) --no-print-directory bench EVERY=1
bench-days: $(B)/engine-days ## plan 200 made-up kitchen days of up to 60 operations
	$(B)/engine-days 200 60
bench-risk: $(B)/risk-bench ## play a million days of 100 operations with one and with two threads
	$(B)/risk-bench 1000000 100 1
	$(B)/risk-bench 1000000 100 2
$(B)/risk-bench: $(B)/t/tests/bench/risk_bench.o $(B)/libbackpot.a
	$(call say,link)$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS)
bench-shows: $(B)/engine-shows ## solve the problems behind shows/, a row for each level
	$(B)/engine-shows shows/*.json
$(B)/engine-bench: $(B)/t/tests/bench/engine_bench.o $(B)/t/tests/bench/instance.o $(B)/libbackpot.a
	$(call say,link)$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS)
$(B)/engine-shows: $(B)/t/tests/bench/shows.o $(B)/libbackpot.a
	$(call say,link)$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS)
bench-growth: $(B)/engine-growth ## plan made-up days of 50 to 10,000 operations: time, memory, exponents
	$(B)/engine-growth 50 100 500 2000 10000
$(B)/engine-growth: $(B)/t/tests/bench/growth.o $(B)/t/tests/support/kitchen_day.o \
                    $(B)/t/tests/support/small_problem.o $(B)/libbackpot.a
	$(call say,link)$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS) -lm
bench-beside: $(B)/engine-beside ## ask a general-purpose solver (Debian's minizinc, npm's) the same questions
	@sh tests/bench/beside.sh $(B)/engine-beside "$(BENCH)" build/bench $(EVERY) $(SECONDS_EACH)
$(B)/engine-beside: $(B)/t/tests/bench/beside.o $(B)/t/tests/bench/dzn.o \
                    $(B)/t/tests/bench/instance.o $(B)/t/tests/support/kitchen_day.o \
                    $(B)/t/tests/support/small_problem.o $(B)/libbackpot.a
	$(call say,link)$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS)
$(B)/engine-days: $(B)/t/tests/bench/days.o $(B)/t/tests/support/kitchen_day.o \
                  $(B)/t/tests/support/small_problem.o $(B)/libbackpot.a
	$(call say,link)$(CC) $(LDFLAGS_ALL) -o $@ $^ $(PKG_LIBS)

# ---- lint --------------------------------------------------------------------------------------

.PHONY: format
format: ## lay out every C file
	clang-format-14 -i $(ALL_C) $(HEADERS)

LINTS := lint-format lint-gcc lint-clang lint-tidy lint-analyzer lint-cppcheck lint-headers lint-source lint-man \
         lint-shell
.PHONY: lint $(LINTS)
lint: deps-lint ## warnings as errors, static analysis, headers alone, layers, banned calls, comments
	@+$(MAKE) --no-print-directory -k $(LINTS) && echo "lint: clean"

lint-format:
	clang-format-14 --dry-run -Werror $(ALL_C) $(HEADERS)

.PHONY: objects
objects: $(LIB_OBJ) $(CLI_OBJ) $(TEST_OBJ) $(TLIB_OBJ)
lint-gcc:
	$(again) CC=gcc WERROR=1 objects
lint-clang:
	$(again) CC=clang-14 WERROR=1 OPT=-O0 objects

# Tidied again when the object was built again: the same headers count.
TIDY := $(patsubst %.c,$(B)/tidy/%.ok,$(LIB_SRC) $(CLI_SRC))
lint-tidy: $(TIDY)
$(B)/tidy/%.ok: $(B)/o/%.o .clang-tidy
	@mkdir -p $(@D)
	@echo tidy $*.c
	@clang-tidy-14 --quiet --warnings-as-errors='*' $*.c -- $(CPPFLAGS_ALL) -std=c11 $(PKG_CFLAGS) \
	  -Xclang -analyzer-config -Xclang max-nodes=$(NODES) \
	  > $@.log 2>&1 || { cat $@.log; exit 1; }
	@touch $@

# gcc's own analysis of paths; what it gets wrong is silenced where it stands, with a reason.
ANALYZED := $(patsubst %.c,$(B)/analyzer/%.ok,$(LIB_SRC) $(CLI_SRC))
lint-analyzer: $(ANALYZED)
$(B)/analyzer/%.ok: $(B)/o/%.o
	@mkdir -p $(@D)
	@echo analyze $*.c
	@gcc $(CPPFLAGS_ALL) -std=c11 -O1 $(PKG_CFLAGS) -fanalyzer -Werror -S -o $(@:.ok=.s) $*.c \
	  > $@.log 2>&1 || { cat $@.log; exit 1; }
	@touch $@

lint-cppcheck:
	@mkdir -p $(B)/cppcheck
	cppcheck --quiet --std=c11 --enable=warning,performance,portability --inline-suppr \
	  --suppress=missingIncludeSystem --suppressions-list=tests/lint/cppcheck.txt \
	  --error-exitcode=1 --cppcheck-build-dir=$(B)/cppcheck -Iinclude -Isrc \
	  -D_POSIX_C_SOURCE=200809L -DBP_VERSION='"$(VERSION)"' src

# Each header compiles alone and twice; the public ones as C++ too.
lint-headers: $(B)/flags
	@for h in $(HEADERS); do printf '#include "%s"\n#include "%s"\ntypedef int alone;\n' \
	  $${h#*/} $${h#*/} | $(CC) $(CPPFLAGS_ALL) -Itests $(CFLAGS_ALL) -Werror -fsyntax-only -x c - \
	  || { echo "$$h does not stand alone"; exit 1; }; done
	@for h in $(wildcard include/backpot/*.h); do printf '#include "%s"\n' $${h#*/} | \
	  clang-14 -Iinclude -Wall -Wextra -Werror -fsyntax-only -x c++ - \
	  || { echo "$$h is not C++ as well"; exit 1; }; done

lint-source:
	@sh tests/lint/layers.sh
	@sh tests/lint/banned.sh
	@sh tests/lint/comments.sh

lint-man:
	@sh tests/lint/man.sh src/cli/backpot.1

lint-shell:
	shellcheck -S warning -s sh $(SCRIPTS)
	shellcheck -S warning -s bash src/cli/completion.bash

# ---- install -----------------------------------------------------------------------------------

I := $(DESTDIR)$(PREFIX)
.PHONY: install uninstall
install: all $(B)/backpot.pc ## install under PREFIX (/usr/local), inside DESTDIR
	install -d $(I)/bin $(I)/lib/pkgconfig $(I)/include/backpot $(I)/share/man/man1 \
	  $(I)/share/bash-completion/completions $(I)/share/zsh/site-functions $(I)/share/backpot
	install -m 755 $(B)/backpot $(I)/bin/backpot
	install -m 644 $(B)/libbackpot.a $(I)/lib/libbackpot.a
	install -m 755 $(B)/$(SONAME) $(I)/lib/$(SONAME).$(VERSION)
	ln -sf $(SONAME).$(VERSION) $(I)/lib/$(SONAME)
	ln -sf $(SONAME) $(I)/lib/libbackpot.so
	install -m 644 $(B)/backpot.pc $(I)/lib/pkgconfig/backpot.pc
	install -m 644 include/backpot/*.h $(I)/include/backpot
	install -m 644 src/cli/backpot.1 $(I)/share/man/man1/backpot.1
	install -m 644 src/cli/completion.bash $(I)/share/bash-completion/completions/backpot
	install -m 644 src/cli/completion.zsh $(I)/share/zsh/site-functions/_backpot
	$(B)/backpot schema > $(I)/share/backpot/show.schema.json
	install -m 644 src/out/plan.schema.json $(I)/share/backpot/plan.schema.json
	cd shows && find . -name '*.json' | while read -r f; do \
	  install -D -m 644 "$$f" "$(abspath $(I))/share/backpot/shows/$$f" || exit 1; done

uninstall: ## take away what install put there
	rm -f $(I)/bin/backpot $(I)/lib/libbackpot.a $(I)/lib/libbackpot.so $(I)/lib/$(SONAME) \
	  $(I)/lib/$(SONAME).$(VERSION) $(I)/lib/pkgconfig/backpot.pc $(I)/share/man/man1/backpot.1 \
	  $(I)/share/bash-completion/completions/backpot $(I)/share/zsh/site-functions/_backpot
	rm -rf $(I)/include/backpot $(I)/share/backpot

# The paths are those of the installed files, whatever DESTDIR they pass through.
$(B)/backpot.pc: src/backpot.pc.in FORCE
	@mkdir -p $(@D)
	sed -e 's|@PREFIX@|$(PREFIX)|' -e 's|@VERSION@|$(VERSION)|' $< > $@

# ---- the rest ----------------------------------------------------------------------------------

.PHONY: clean help
clean: ## take away all that was built
	rm -rf build

help: ## this list
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "  %-12s %s\n", $$1, $$2 }' Makefile
