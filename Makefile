# swapworth. `make help` lists what can be made.

CC ?= gcc
ifeq ($(origin CC),default)
CC := gcc
endif
BUILD ?= build
OPT ?= -O2
PREFIX ?= /usr/local
DESTDIR ?=
BINDIR ?= $(PREFIX)/bin
LIBDIR ?= $(PREFIX)/lib
INCLUDEDIR ?= $(PREFIX)/include
DATADIR ?= $(PREFIX)/share
MANDIR ?= $(DATADIR)/man
DOCDIR ?= $(DATADIR)/doc/swapworth
BASHDIR ?= $(DATADIR)/bash-completion/completions
ZSHDIR ?= $(DATADIR)/zsh/site-functions
# The version stands in the header alone. ABI is raised when a program that was built before would break.
VERSION := $(shell sed -n 's/^\#define SW_VERSION "\(.*\)"/\1/p' include/swapworth.h)
VERSION_DATE := $(shell sed -n 's/^\#define SW_VERSION_DATE "\(.*\)"/\1/p' include/swapworth.h)
ABI := 0
# -ffp-contract=off: points are rounded from floating point; the same bytes must
# come out whatever the compiler would fuse.
CFLAGS_ALL := -std=c17 -D_XOPEN_SOURCE=700 $(OPT) -g -fPIC -ffp-contract=off \
              -Wall -Wextra -Wshadow -Wpointer-arith -Wstrict-prototypes -Wvla -Werror \
              -Isrc -Iinclude -I$(BUILD)/made $(SANITIZE) $(CPPFLAGS) $(CFLAGS)
LIBS := -lglpk -lcjson -lcsv -lm
# The desk alone needs it: what serves HTTP is no part of the library.
DESK_LIBS := -levent_core -levent_extra
TEST_LIBS := -lcriterion

LIB_SRC := $(filter-out src/face/% src/desk/%,$(wildcard src/*.c src/*/*.c))
DESK_SRC := $(wildcard src/desk/*.c)
FACE_SRC := $(wildcard src/face/*.c)
TEST_SRC := $(wildcard tests/unit/*.c)
LIB_OBJ := $(LIB_SRC:%.c=$(BUILD)/%.o)
DESK_OBJ := $(DESK_SRC:%.c=$(BUILD)/%.o)
FACE_OBJ := $(FACE_SRC:%.c=$(BUILD)/%.o)
TEST_OBJ := $(TEST_SRC:%.c=$(BUILD)/%.o)
ALL_OBJ := $(LIB_OBJ) $(DESK_OBJ) $(FACE_OBJ) $(TEST_OBJ)
TOOLS := $(BUILD)/tests/brute $(BUILD)/tests/generate $(BUILD)/tests/driver $(BUILD)/tests/why \
         $(BUILD)/tests/fits-driver $(BUILD)/tests/conflict-driver $(BUILD)/tests/worked-compare \
         $(BUILD)/tests/air-network $(BUILD)/tests/properties $(BUILD)/tests/findings-driver \
         $(BUILD)/tests/agree $(BUILD)/tests/requests $(BUILD)/tests/early $(BUILD)/tests/check-many $(BUILD)/tests/bench-catalog $(BUILD)/tests/bench-time \
         $(BUILD)/tests/bench-exact $(BUILD)/tests/sweep $(BUILD)/tests/ranges $(BUILD)/tests/later \
         $(BUILD)/tests/options $(BUILD)/tests/bundles $(BUILD)/tests/papers \
         $(BUILD)/tests/shopping $(BUILD)/tests/dumps $(BUILD)/tests/prices $(BUILD)/tests/sure \
         $(BUILD)/tests/projects $(BUILD)/tests/desk-steps $(BUILD)/tests/desk-faults.so \
         $(BUILD)/tests/failing.so $(BUILD)/tests/failing-planted $(BUILD)/tests/swapworth-small \
         $(BUILD)/tests/desk-steps-small

.DEFAULT_GOAL := all
.PHONY: all help tools analyze coverage mutation deps deps-test deps-page deps-verify demo pictures test quick verify \
        bench asan tidy format install uninstall clean stage man deb

all: deps $(BUILD)/swapworth $(BUILD)/libswapworth.a $(BUILD)/libswapworth.so

help:
	@echo "make            build the program and both libraries (in $(BUILD)/)"
	@echo "make demo       install what is missing, build, plan the shipped scenario, and write its"
	@echo "                proposal, $(BUILD)/proposal.html"
	@echo "make test       install what is missing, build, run the quick tests, then again"
	@echo "                under AddressSanitizer and UndefinedBehaviorSanitizer"
	@echo "make verify     the long tests: 10,000 random jobs against brute force, 1,100 against"
	@echo "                CBC, 200 against MiniZinc, both compilers, locales, every rule taken out"
	@echo "make bench      under fifteen minutes: how tight the integer program is, and how long the"
	@echo "                whole curve takes beside other solvers (tests/bench/run.sh --full: hours)"
	@echo "make fuzz MINUTES=n  hostile inputs drawn for every reader, n minutes in all (1 without MINUTES),"
	@echo "                shared by the harnesses; what does not hold stays in $(BUILD)/fuzz/found/"
	@echo "make asan       only the sanitized half of the quick tests"
	@echo "make tidy       clang-tidy and cppcheck over our own code"
	@echo "make analyze    the analyzer of gcc over our own code"
	@echo "make coverage   which lines and branches of src/ the quick tests run (half an hour)"
	@echo "make mutation   how many of 100 small slips, each in one line of src/, the tests notice"
	@echo "                (hours; another sample: SEED=n COUNT=n)"
	@echo "make format     clang-format over our own code"
	@echo "make pictures   the proposals of all scenarios as a person sees them: wide, narrow, on paper,"
	@echo "                without colour ($(BUILD)/tests/page/pictures/)"
	@echo "make install    program, libraries, header, pkg-config file, manual, completions, catalog and"
	@echo "                scenarios into PREFIX (default /usr/local), honours DESTDIR"
	@echo "make uninstall  takes away exactly what install put there"
	@echo "make man        the pages of the manual ($(BUILD)/man/)"
	@echo "make deb        Debian packages: swapworth, libswapworth0, libswapworth-dev ($(BUILD)/deb/)"
	@echo "make clean      remove $(BUILD)/"
	@echo "Variables: CC=gcc|clang  OPT=-O2  BUILD=build  PREFIX=/usr/local"

# ---- what must be there ---------------------------------------------------------

# GLPK has no pkg-config file in Debian: every dependency is tried by compiling.
define need
	@printf '#include <stdio.h>\n#include <$(1)>\nint main(void){return 0;}\n' > $(BUILD)/need.c; \
	if $(CC) -o $(BUILD)/need $(BUILD)/need.c $(2) 2>/dev/null; then :; else \
	  echo "installing $(3)"; tests/install.sh $(3); fi
endef

deps:
	@mkdir -p $(BUILD)
	@command -v $(CC) >/dev/null || tests/install.sh $(CC)
	@echo 'int main(void){return 0;}' > $(BUILD)/need.c; \
	$(CC) -o $(BUILD)/need $(BUILD)/need.c 2>/dev/null || tests/install.sh libc6-dev
	$(call need,glpk.h,-lglpk,libglpk-dev)
	$(call need,cjson/cJSON.h,-lcjson,libcjson-dev)
	$(call need,csv.h,-lcsv,libcsv-dev)
	$(call need,event2/http.h,$(DESK_LIBS),libevent-dev)

# What the tests of the page need: a browser, and node with two packages, which stand in the build folder.
NODE_READY := $(BUILD)/tests/page/node_modules/.ready
deps-page: deps
	@command -v chromium >/dev/null || tests/install.sh chromium
	@command -v node >/dev/null || tests/install.sh nodejs
	@command -v npm >/dev/null || tests/install.sh npm
	@command -v pdftoppm >/dev/null || tests/install.sh poppler-utils
	@[ -e /usr/share/fonts/truetype/dejavu/DejaVuSerif.ttf ] || tests/install.sh fonts-dejavu-core
	@$(MAKE) --no-print-directory $(NODE_READY)

$(NODE_READY): tests/page/package.json tests/page/package-lock.json tests/page/.npmrc
	@mkdir -p $(BUILD)/tests/page
	@cp tests/page/package.json tests/page/package-lock.json tests/page/.npmrc $(BUILD)/tests/page/
	@echo "installing the node packages of the page's tests"
	@cd $(BUILD)/tests/page && npm ci --ignore-scripts --silent
	@touch $@

deps-test: deps deps-page deps-fuzz
	$(call need,criterion/criterion.h,-lcriterion,libcriterion-dev)
	@[ -x /usr/bin/jsonschema ] || tests/install.sh python3-jsonschema
	@command -v xmllint >/dev/null || tests/install.sh libxml2-utils
	@command -v script >/dev/null || tests/install.sh bsdutils
	@command -v tmux >/dev/null || tests/install.sh tmux
	@command -v dmidecode >/dev/null || [ -x /usr/sbin/dmidecode ] || tests/install.sh dmidecode
	@command -v edid-decode >/dev/null || tests/install.sh edid-decode

deps-verify: deps-test
	@command -v mandoc >/dev/null || tests/install.sh mandoc
	@command -v man >/dev/null || tests/install.sh man-db
	@command -v zsh >/dev/null || tests/install.sh zsh
	@command -v pkg-config >/dev/null || tests/install.sh pkgconf
	@command -v cbc >/dev/null || tests/install.sh coinor-cbc
	@command -v minizinc >/dev/null && command -v fzn-gecode >/dev/null || tests/install.sh minizinc flatzinc
	@command -v setarch >/dev/null && command -v taskset >/dev/null || tests/install.sh util-linux
	@command -v clang >/dev/null || tests/install.sh clang
	@command -v cvt >/dev/null || tests/install.sh xcvt
	@command -v lintian >/dev/null || tests/install.sh lintian
	@locale -a | grep -qi de_DE.utf || tests/install.sh locales-all

# ---- building ---------------------------------------------------------------------

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	@echo "  CC  $<"
	@$(CC) $(CFLAGS_ALL) -MMD -MP -c $< -o $@

# The pages' styles and script, with the hashes that their policies name them by.
PAGE := $(BUILD)/made/render/proposal_style.h $(BUILD)/made/render/proposal_script.h \
        $(BUILD)/made/render/paper_style.h
$(BUILD)/made/render/proposal_style.h: src/render/proposal.css src/render/embed.sh
	@mkdir -p $(@D)
	@src/render/embed.sh proposal_style $< > $@.part && mv $@.part $@
$(BUILD)/made/render/proposal_script.h: src/render/proposal.js src/render/embed.sh
	@mkdir -p $(@D)
	@src/render/embed.sh proposal_script $< > $@.part && mv $@.part $@
$(BUILD)/made/render/paper_style.h: src/render/paper.css src/render/embed.sh
	@mkdir -p $(@D)
	@src/render/embed.sh paper_style $< > $@.part && mv $@.part $@
$(BUILD)/src/render/proposal.o $(BUILD)/src/render/paper.o: $(PAGE)

# The page of the desk: its files as a table of the program.
DESK_PAGE := $(wildcard src/desk/page/*)
$(BUILD)/made/desk/page_files.h: $(DESK_PAGE) src/desk/embed_page.sh src/render/embed.sh
	@mkdir -p $(@D)
	@src/desk/embed_page.sh $(DESK_PAGE) > $@.part && mv $@.part $@
$(BUILD)/src/desk/assets.o: $(BUILD)/made/desk/page_files.h

$(BUILD)/libswapworth.a: $(LIB_OBJ)
	@rm -f $@
	ar rcs $@ $^

# What the header declares leaves the library, and nothing else.
$(BUILD)/made/swapworth.map: include/swapworth.h Makefile
	@mkdir -p $(@D)
	@{ echo 'SWAPWORTH_$(ABI) {'; echo '  global:'; \
	  grep -oE '\bsw_[a-z0-9_]+\(' $< | sort -u | sed 's/(/;/; s/^/    /'; \
	  echo '  local: *;'; echo '};'; } > $@.part && mv $@.part $@

$(BUILD)/libswapworth.so: $(LIB_OBJ) $(BUILD)/made/swapworth.map
	$(CC) -shared -Wl,-soname,libswapworth.so.$(ABI) -Wl,--version-script,$(BUILD)/made/swapworth.map \
	  $(LDFLAGS) $(SANITIZE) -o $@ $(LIB_OBJ) $(LIBS)

# No part of the library, but tests look into it too.
$(BUILD)/libdesk.a: $(DESK_OBJ)
	@rm -f $@
	ar rcs $@ $^

$(BUILD)/swapworth: $(FACE_OBJ) $(BUILD)/libdesk.a $(BUILD)/libswapworth.a
	$(CC) $(LDFLAGS) $(SANITIZE) -o $@ $^ $(DESK_LIBS) $(LIBS)

$(BUILD)/unit: $(TEST_OBJ) $(BUILD)/libdesk.a $(BUILD)/libswapworth.a
	$(CC) $(SANITIZE) -o $@ $^ $(TEST_LIBS) $(DESK_LIBS) $(LIBS)

# The other side of the tests shares no code with the program.
ORACLE_SRC := $(filter-out tests/oracle/main.c,$(wildcard tests/oracle/*.c))
$(BUILD)/tests/brute: $(wildcard tests/oracle/*.c tests/oracle/*.h)
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(wildcard tests/oracle/*.c) -lcjson -lm

$(BUILD)/tests/generate: $(wildcard tests/random/generate*.c tests/random/*.h)
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(wildcard tests/random/generate*.c) -lcjson -lm

$(BUILD)/tests/driver: $(wildcard tests/random/driver*.c)
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(wildcard tests/random/driver*.c) -lcjson -lm

WHY_SRC := $(wildcard tests/why/*.c) tests/random/driver_compare.c tests/random/driver_worth.c
$(BUILD)/tests/why: $(WHY_SRC) $(wildcard tests/why/*.h tests/random/driver_compare.h)
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(WHY_SRC) -lcjson -lm

RANGES_SRC := $(wildcard tests/ranges/*.c) tests/fits/child.c tests/random/driver_compare.c \
              tests/random/driver_worth.c
$(BUILD)/tests/ranges: $(RANGES_SRC) $(wildcard tests/ranges/*.h tests/fits/child.h)
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(RANGES_SRC) -lcjson -lm

OPTIONS_SRC := $(wildcard tests/options/*.c) tests/fits/child.c tests/random/driver_compare.c \
               tests/random/driver_worth.c
$(BUILD)/tests/options: $(OPTIONS_SRC) $(wildcard tests/options/*.h tests/fits/child.h tests/random/driver_compare.h)
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(OPTIONS_SRC) -lcjson -lm

LATER_SRC := $(wildcard tests/later/*.c) tests/why/run.c tests/random/driver_compare.c \
             tests/random/driver_worth.c
$(BUILD)/tests/later: $(LATER_SRC) $(wildcard tests/later/*.h tests/why/driver.h tests/random/driver_compare.h)
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(LATER_SRC) -lcjson -lm

$(BUILD)/tests/fits-driver: $(wildcard tests/fits/*.c tests/fits/*.h)
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(wildcard tests/fits/*.c) -lcjson -lm

CONFLICT_SRC := $(wildcard tests/conflict/*.c) tests/fits/child.c tests/random/driver_compare.c \
                tests/random/driver_worth.c
$(BUILD)/tests/conflict-driver: $(CONFLICT_SRC) $(wildcard tests/conflict/*.h tests/fits/child.h)
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(CONFLICT_SRC) -lcjson -lm

$(BUILD)/tests/worked-compare: tests/worked/compare.c
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $< -lcjson -lm

PROPERTIES_SRC := $(wildcard tests/properties/*.c) tests/metamorphic/job.c tests/fits/child.c
$(BUILD)/tests/properties: $(PROPERTIES_SRC) $(wildcard tests/properties/*.h)
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(PROPERTIES_SRC) -lcjson -lm

FINDINGS_SRC := $(wildcard tests/findings/*.c) tests/rules/edge_table.c
$(BUILD)/tests/findings-driver: $(FINDINGS_SRC) $(wildcard tests/findings/*.h tests/rules/edge.h)
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -Itests/rules -o $@ $(FINDINGS_SRC) -lcjson -lm

$(BUILD)/tests/bench-catalog: $(wildcard tests/bench/catalog*.c tests/bench/*.h)
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(wildcard tests/bench/catalog*.c)

# These ask the library itself.
BENCH_SRC := $(wildcard tests/bench/measure*.c)
$(BUILD)/tests/bench-%: tests/bench/%.c $(BENCH_SRC) tests/bench/measure.h $(BUILD)/libswapworth.a
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $< $(BENCH_SRC) $(BUILD)/libswapworth.a $(LIBS)

$(BUILD)/tests/air-network: $(wildcard tests/air/*.c tests/air/*.h) $(BUILD)/libswapworth.a
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(wildcard tests/air/*.c) $(BUILD)/libswapworth.a $(LIBS)

PAPERS_SRC := $(addprefix tests/papers/,driver.c run.c machine.c compare.c judge.c judge_touch.c \
                judge_order.c right.c faults.c spoil.c spoil_order.c) \
              tests/fits/child.c tests/random/driver_compare.c tests/random/driver_worth.c
$(BUILD)/tests/papers: $(PAPERS_SRC) tests/papers/papers.h tests/papers/faults.h
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(PAPERS_SRC) -lcjson -lm

SHOPPING_SRC := $(wildcard tests/papers/shopping*.c) tests/fits/child.c \
                tests/random/driver_compare.c tests/random/driver_worth.c
$(BUILD)/tests/shopping: $(SHOPPING_SRC) tests/papers/shopping.h tests/fits/child.h
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(SHOPPING_SRC) -lcjson -lm

PRICES_SRC := $(wildcard tests/intake/prices*.c) tests/fits/child.c
$(BUILD)/tests/prices: $(PRICES_SRC) tests/intake/prices.h tests/fits/child.h
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(PRICES_SRC) -lcjson -lm

$(BUILD)/tests/bundles: tests/papers/bundles.c $(BUILD)/libswapworth.a
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $< $(BUILD)/libswapworth.a $(LIBS)

$(BUILD)/tests/agree $(BUILD)/tests/requests: $(BUILD)/tests/%: tests/agree/%.c $(BUILD)/libswapworth.a
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $< $(BUILD)/libswapworth.a $(LIBS)

$(BUILD)/tests/early: tests/early/early.c $(BUILD)/libswapworth.a
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $< $(BUILD)/libswapworth.a $(LIBS)

$(BUILD)/tests/check-many: tests/schemas/check_many.c $(BUILD)/libswapworth.a
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $< $(BUILD)/libswapworth.a $(LIBS)

$(BUILD)/tests/dumps: $(wildcard tests/intake/dumps_*.c) tests/intake/dumps.h $(BUILD)/libswapworth.a
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(wildcard tests/intake/dumps_*.c) $(BUILD)/libswapworth.a $(LIBS)

SWEEP_SRC := $(wildcard tests/sweep/*.c) tests/bench/measure.c
$(BUILD)/tests/sweep: $(SWEEP_SRC) tests/sweep/sweep.h $(BUILD)/libswapworth.a
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $(SWEEP_SRC) $(BUILD)/libswapworth.a $(LIBS)

$(BUILD)/tests/sure: tests/sure/engine.c $(BUILD)/libswapworth.a
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $< $(BUILD)/libswapworth.a $(LIBS)

$(BUILD)/tests/projects: tests/sure/projects.c
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $<

# Of the desk what is no HTTP.
$(BUILD)/tests/desk-steps: tests/desk/steps.c $(BUILD)/libdesk.a $(BUILD)/libswapworth.a
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $^ $(LIBS)

$(BUILD)/tests/desk-steps-small: tests/desk/steps.c $(BUILD)/tests/arena-small.o $(BUILD)/libdesk.a $(BUILD)/libswapworth.a
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $^ $(LIBS)

# Stands between a program and the C library: a disk that is full, a save that takes long.
$(BUILD)/tests/desk-faults.so: tests/desk/faults.c
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -D_GNU_SOURCE -shared -o $@ $< -ldl

# Likewise: any one request for memory, any one call about files, the end at any moment of writing.
$(BUILD)/tests/failing.so: $(wildcard tests/failing/*.c) tests/failing/failing.h
	@mkdir -p $(@D)
	$(CC) $(filter-out $(SANITIZE),$(CFLAGS_ALL)) -D_GNU_SOURCE -shared -o $@ $(wildcard tests/failing/*.c) -ldl

# The program with an arena that asks for memory for each object, so that each can be refused.
$(BUILD)/tests/arena-small.o: src/base/arena.c src/base/base.h
	@mkdir -p $(@D)
	@$(CC) $(CFLAGS_ALL) -DCHUNK_BYTES=16 -c $< -o $@

$(BUILD)/tests/swapworth-small: $(FACE_OBJ) $(BUILD)/tests/arena-small.o $(BUILD)/libdesk.a $(BUILD)/libswapworth.a
	$(CC) $(LDFLAGS) $(SANITIZE) -o $@ $^ $(DESK_LIBS) $(LIBS)

$(BUILD)/tests/failing-planted: tests/failing/planted/planted.c
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $<

$(BUILD)/tests/timing: tests/links/timing.c $(BUILD)/libswapworth.a
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -o $@ $< $(BUILD)/libswapworth.a $(LIBS)

-include $(ALL_OBJ:.o=.d)

# ---- fuzzing -------------------------------------------------------------------------

# What the sanitized half of the tests runs, in a folder of its own. Each object of an arena by itself, so that
# what reads or writes beyond one is seen.
ASAN_SANITIZE := -g1 -DCHUNK_BYTES=1 -fsanitize=address,undefined -fno-sanitize-recover=all
.PHONY: asan-build
asan-build:
	@$(MAKE) --no-print-directory BUILD=$(BUILD)/asan OPT=-O1 SANITIZE="$(ASAN_SANITIZE)" \
	  $(BUILD)/asan/swapworth $(BUILD)/asan/unit

# tests/fuzz/run.sh makes these with clang, in a build folder of their own, with these flags.
# Each object of an arena by itself, so that what goes beyond one is seen.
FUZZ_SANITIZE := -DCHUNK_BYTES=1 -fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=all
FUZZ_MAKE := BUILD=$(BUILD)/fuzz CC=clang OPT=-O0 SANITIZE="$(FUZZ_SANITIZE)"
FUZZ_SHARED := fuzz shelf dump
FUZZ_NAMES := $(sort $(filter-out $(FUZZ_SHARED),$(notdir $(basename $(wildcard tests/fuzz/*.c)))))
# Only what the harnesses reach is built again.
FUZZ_NOT := $(addprefix src/,base/version.c check/files.c check/settings.c formulas/air.c \
              intake/ask_answers.c render/prices_text.c render/prices_waiting.c desk/desk.c \
              desk/assets.c desk/names.c desk/page_words.c desk/requests%.c desk/work%.c)
FUZZ_SRC := $(filter-out $(FUZZ_NOT),$(DESK_SRC) \
              $(wildcard $(addsuffix /*.c,$(addprefix src/,base read check formulas intake)) src/render/prices_*.c) \
              $(addprefix src/render/,calibration_json.c html.c svg.c json_writer.c page.c ask_text.c \
                piece_text.c survey_json.c))
$(BUILD)/libfuzz.a: $(FUZZ_SRC:%.c=$(BUILD)/%.o)
	@rm -f $@
	@ar rcs $@ $^
$(BUILD)/%.fault.o: %.c
	@mkdir -p $(@D)
	@$(CC) $(CFLAGS_ALL) -DFUZZ_FAULT -MMD -MP -c $< -o $@
FUZZ_LINK = $(CC) $(subst fuzzer-no-link,fuzzer,$(SANITIZE)) -o $@ $^ $(DESK_LIBS) $(LIBS)
$(BUILD)/run/%: $(BUILD)/tests/fuzz/%.o $(FUZZ_SHARED:%=$(BUILD)/tests/fuzz/%.o) $(BUILD)/libfuzz.a
	@mkdir -p $(@D)
	@$(FUZZ_LINK)
$(BUILD)/faulty/%: $(BUILD)/tests/fuzz/%.fault.o $(FUZZ_SHARED:%=$(BUILD)/tests/fuzz/%.fault.o) $(BUILD)/libfuzz.a
	@mkdir -p $(@D)
	@$(FUZZ_LINK) $(if $(findstring http,$@),-Wl$(comma)--wrap=sw_gate_lets_in)
comma := ,
.PHONY: fuzz fuzzers fuzzers-faulty deps-fuzz
.SECONDARY: $(foreach name,$(FUZZ_NAMES) $(FUZZ_SHARED),$(BUILD)/tests/fuzz/$(name).o $(BUILD)/tests/fuzz/$(name).fault.o)
fuzzers: $(FUZZ_NAMES:%=$(BUILD)/run/%)
fuzzers-faulty: $(FUZZ_NAMES:%=$(BUILD)/faulty/%)
-include $(wildcard $(BUILD)/tests/fuzz/*.d)
# What run.sh calls: the same in their own folder.
.PHONY: fuzz-build fuzz-build-faulty
fuzz-build fuzz-build-faulty:
	@$(MAKE) --no-print-directory $(FUZZ_MAKE) $(subst -build,,$(subst fuzz,fuzzers,$@))

deps-fuzz: deps
	@command -v clang >/dev/null || tests/install.sh clang
	@printf 'int LLVMFuzzerTestOneInput(const char *d, unsigned long n);\n\
	int LLVMFuzzerTestOneInput(const char *d, unsigned long n) { return d == 0 && n == 1; }\n' > $(BUILD)/need.c; \
	clang -fsanitize=fuzzer -o $(BUILD)/need $(BUILD)/need.c 2>/dev/null || tests/install.sh libclang-rt-14-dev

MINUTES ?= 1
fuzz: deps-fuzz
	@tests/fuzz/run.sh --minutes $(MINUTES)

# ---- using -------------------------------------------------------------------------

demo: all
	$(BUILD)/swapworth plan scenarios/attic-desk.json
	$(BUILD)/swapworth options scenarios/attic-desk.json -o $(BUILD)/proposal.html
	$(BUILD)/swapworth bench scenarios/attic-desk.json --option 3 -o $(BUILD)/work-order.html >$(BUILD)/work-order.txt
	@echo "The page for the client: $(BUILD)/proposal.html; the work order: $(BUILD)/work-order.html"

test: deps-test
	@tests/run.sh quick

# For people to look at: no test.
pictures: all deps-page
	@tests/page/run.sh --pictures

asan: deps-test
	@tests/run.sh asan

verify: deps-verify
	@tests/run.sh verify

bench: all deps-page $(BUILD)/tests/bench-catalog $(BUILD)/tests/bench-time $(BUILD)/tests/bench-whatif
	@command -v glpsol >/dev/null || tests/install.sh glpk-utils
	@command -v cbc >/dev/null || tests/install.sh coinor-cbc
	@SWAPWORTH=$(BUILD)/swapworth SECONDS_EACH=20 tests/bench/gap.sh scenarios/camera-room.json scenarios/good-enough.json
	@BUILD=$(BUILD) tests/bench/run.sh --short
	@$(BUILD)/tests/bench-whatif scenarios/good-enough.json scenarios/camera-room.json
	@BUILD=$(BUILD) tests/bench/doubt.sh
	@BUILD=$(BUILD) tests/bench/desk.sh

# A file is looked at again when it, what it includes or .clang-tidy changes: `make clean` for all anew.
# -k: all remarks are told, not those of one file. cppcheck knows no C17: C11 has the same language.
TIDY_SRC := $(LIB_SRC) $(DESK_SRC) $(FACE_SRC)
TIDY_DONE := $(TIDY_SRC:%=$(BUILD)/tidy/%.done)
$(BUILD)/tidy/%.c.done: %.c .clang-tidy
	@mkdir -p $(@D)
	@clang-tidy --quiet $< -- $(CFLAGS_ALL) 2>$@.err || { cat $@.err; exit 1; }
	@$(CC) $(CFLAGS_ALL) -MM -MP -MT $@ -MF $(@:.done=.d) $<
	@touch $@
-include $(wildcard $(addsuffix /*.d,$(sort $(dir $(TIDY_DONE)))))
.PHONY: tidy-files
tidy-files: $(TIDY_DONE)
tidy: $(PAGE) $(BUILD)/made/desk/page_files.h
	@command -v clang-tidy >/dev/null || tests/install.sh clang-tidy
	@command -v cppcheck >/dev/null || tests/install.sh cppcheck
	@$(MAKE) --no-print-directory -k $(if $(filter -j%,$(MAKEFLAGS)),,-j$(shell nproc)) tidy-files
	@echo "clang-tidy: $(words $(TIDY_SRC)) files, no remark"
	@cppcheck --quiet -j $(shell nproc) --std=c11 --enable=warning,performance,portability \
	  --suppress=missingIncludeSystem --error-exitcode=1 -Isrc -Iinclude -I$(BUILD)/made $(TIDY_SRC)
	@echo "cppcheck: $(words $(TIDY_SRC)) files, no remark"

# Its remarks are errors, as those of the compiler. At -O1: the paths it follows are those of the source.
analyze: deps
	@$(MAKE) --no-print-directory BUILD=$(BUILD)/analyze CC=gcc OPT="-O1 -fanalyzer" $(BUILD)/analyze/swapworth
	@echo "gcc -fanalyzer: $(words $(LIB_SRC) $(DESK_SRC) $(FACE_SRC)) files, no remark"

coverage: deps-test
	@command -v gcovr >/dev/null || tests/install.sh gcovr
	@tests/coverage/run.sh

SEED ?= 1
COUNT ?= 100
mutation: deps-test
	@node tests/mutation/run.mjs $(SEED) $(COUNT)

tools: $(TOOLS)

format:
	@command -v clang-format >/dev/null || tests/install.sh clang-format
	clang-format -i $(shell git ls-files 'src/*.[ch]' 'include/*.h' 'tests/*.[ch]')

# ---- installing ------------------------------------------------------------------------

# The program tells its own manual and completions, from the tables that --help is made of.
man: $(BUILD)/man/.ready
$(BUILD)/man/.ready: $(BUILD)/swapworth catalog/FORMATS.md .package/formats-page.sh
	@rm -rf $(BUILD)/man && mkdir -p $(BUILD)/man
	@$(BUILD)/swapworth help --man > $(BUILD)/man/swapworth.1
	@$(BUILD)/swapworth help --commands | while read -r name; do \
	  $(BUILD)/swapworth help --man $$name > "$(BUILD)/man/swapworth-$$(echo "$$name" | tr ' ' -).1" || exit 1; done
	@.package/formats-page.sh catalog/FORMATS.md $(VERSION) $(VERSION_DATE) $(DATADIR)/swapworth/catalog \
	  > $(BUILD)/man/swapworth-formats.5
	@$(BUILD)/swapworth help --completion bash > $(BUILD)/man/bash
	@$(BUILD)/swapworth help --completion zsh > $(BUILD)/man/zsh
	@touch $@

# All that is installed, as it will stand; what is no file of the tree is made here.
STAGE := $(BUILD)/stage
SHARED := libswapworth.so.$(VERSION)
stage: all man
	@rm -rf $(STAGE)
	@install -d $(addprefix $(STAGE),$(BINDIR) $(LIBDIR)/pkgconfig $(INCLUDEDIR) $(DATADIR)/swapworth \
	  $(MANDIR)/man1 $(MANDIR)/man5 $(DOCDIR)/examples $(BASHDIR) $(ZSHDIR))
	@install -m 755 $(BUILD)/swapworth $(STAGE)$(BINDIR)/swapworth
	@install -m 644 $(BUILD)/libswapworth.a $(STAGE)$(LIBDIR)/libswapworth.a
	@install -m 644 $(BUILD)/libswapworth.so $(STAGE)$(LIBDIR)/$(SHARED)
	@ln -s $(SHARED) $(STAGE)$(LIBDIR)/libswapworth.so.$(ABI)
	@ln -s libswapworth.so.$(ABI) $(STAGE)$(LIBDIR)/libswapworth.so
	@install -m 644 include/swapworth.h $(STAGE)$(INCLUDEDIR)/swapworth.h
	@sed -e 's|@PREFIX@|$(PREFIX)|' -e 's|@LIBDIR@|$(LIBDIR)|' -e 's|@INCLUDEDIR@|$(INCLUDEDIR)|' \
	  -e 's|@VERSION@|$(VERSION)|' .package/swapworth.pc.in > $(STAGE)$(LIBDIR)/pkgconfig/swapworth.pc
	@cp -R catalog scenarios $(STAGE)$(DATADIR)/swapworth/
	@install -m 644 $(BUILD)/man/*.1 $(STAGE)$(MANDIR)/man1/
	@install -m 644 $(BUILD)/man/*.5 $(STAGE)$(MANDIR)/man5/
	@install -m 644 $(BUILD)/man/bash $(STAGE)$(BASHDIR)/swapworth
	@install -m 644 $(BUILD)/man/zsh $(STAGE)$(ZSHDIR)/_swapworth
	@install -m 644 README.md DEVELOPERS.md LICENSE $(STAGE)$(DOCDIR)/
	@install -m 644 tests/examples/*.c $(STAGE)$(DOCDIR)/examples/

# Where the list stands of what was put where.
PUT_LIST := $(DATADIR)/swapworth/installed

install: stage
	@.package/install.sh put $(STAGE) "$(DESTDIR)" $(PUT_LIST)
	@echo "installed into $(DESTDIR)$(PREFIX)"

uninstall:
	@.package/install.sh take "$(DESTDIR)" $(PUT_LIST)

deb: deps
	@command -v dpkg-buildpackage >/dev/null || tests/install.sh dpkg-dev
	@command -v dh >/dev/null || tests/install.sh debhelper
	@command -v fakeroot >/dev/null || tests/install.sh fakeroot
	@.package/deb.sh $(BUILD)/deb $(VERSION)

clean:
	rm -rf $(BUILD)
