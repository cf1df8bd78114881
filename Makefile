# wetside: GNU make. `make help` lists the targets. Everything made goes to build/ (and the test programs from npm to
# tests/node/node_modules/). CC, CFLAGS, CPPFLAGS, LDFLAGS, BISON, FLEX and PKG_CONFIG are yours; what the project cannot
# do without stands in variables of its own. V=1 shows the commands, WERROR= lets warnings pass.

# The one list of packages (Debian 12 names). `package:command` is looked for by its command, `package=module` by
# pkg-config, a bare name by dpkg: a tool that came another way is good enough and is left alone.
BUILD_PACKAGES := gcc:cc libc6-dev make:make flex:flex bison:bison pkg-config:pkg-config libcmark-dev=libcmark \
	libjansson-dev=jansson libmd-dev=libmd libutf8proc-dev=libutf8proc
TEST_PACKAGES := libcmocka-dev=cmocka valgrind:valgrind clang:clang clang-tidy:clang-tidy cppcheck:cppcheck \
	shellcheck:shellcheck python3:python3 python3-scipy python3-yaml patch:patch diffutils:diff dash:dash bash:bash busybox:busybox mksh:mksh yash:yash \
	ksh93u+m:ksh93 posh:posh zsh:zsh strace:strace jq:jq cmark:cmark mandoc:mandoc units:units tidy:tidy chromium:chromium \
	poppler-utils:pdftotext nodejs:node npm:npm default-jre-headless:java locales:locale-gen \
	fish:fish vim:vim lintian:lintian dpkg-dev:dpkg-shlibdeps emacs-nox:emacs ninja-build:ninja \
	util-linux:unshare libxml2-utils:xmllint glpk-utils:glpsol libical-dev=libical sox:sox python3-numpy libespeak-ng1 ca-certificates \
	fonts-dejavu-core fonts-liberation
# Peers to measure beside.
BENCH_PACKAGES := device-tree-compiler:dtc cmark:cmark valgrind:valgrind python3:python3

MAKEFLAGS += --no-builtin-rules
.DELETE_ON_ERROR:
.SUFFIXES:

CFLAGS ?= -O2 -g
BISON ?= bison
FLEX ?= flex
PKG_CONFIG ?= pkg-config
WERROR ?= -Werror

LANGUAGE_FLAGS := -std=c11 -D_POSIX_C_SOURCE=200809L -D_XOPEN_SOURCE=700 -ffp-contract=off
WARNING_FLAGS := -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes $(WERROR)
INCLUDE_FLAGS := -Isrc -Ibuild/generated
# Undefined behaviour traps, so that it too is reported where ASAN_OPTIONS=log_path says and no test can overlook it.
SANITIZE_FLAGS := -O1 -fsanitize=address,undefined -fsanitize-undefined-trap-on-error -fno-omit-frame-pointer \
	-DLARGEST_SPARE=0
COVERAGE_FLAGS := -O0 --coverage
MUTANT_FLAGS := -O1 -g0
# Without the tracing of comparisons, which takes half of the time; there is a dictionary.
FUZZ_FLAGS := -O2 -fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-coverage=trace-cmp -fno-sanitize-recover=undefined \
	-fno-omit-frame-pointer -DLARGEST_SPARE=0

# Asked once, and only when something is compiled: before `make demo` there may be no pkg-config yet.
MODULES := libcmark jansson libmd libutf8proc
MODULE_CFLAGS = $(eval MODULE_CFLAGS := $$(shell $$(PKG_CONFIG) --cflags $(MODULES)))$(MODULE_CFLAGS)
MODULE_LIBS = $(eval MODULE_LIBS := $$(shell $$(PKG_CONFIG) --libs $(MODULES)) -lm -ldl)$(MODULE_LIBS)
CMOCKA_LIBS = $(eval CMOCKA_LIBS := $$(shell $$(PKG_CONFIG) --libs cmocka))$(CMOCKA_LIBS)
COMPILE = $(CC) $(LANGUAGE_FLAGS) $(INCLUDE_FLAGS) $(MODULE_CFLAGS) $(CPPFLAGS) $(WARNING_FLAGS) $(CFLAGS)

Q := $(if $(V),,@)
say = $(if $(V),,@printf '  %-8s %s\n' '$(1)' '$(or $(2),$@)')
# `make demo` and `make test` use every core unless -j was given.
JOBS = $(if $(findstring -j,$(MAKEFLAGS)),,-j$(shell nproc 2>/dev/null || echo 2))

all: build/wetside ## build build/wetside (the default)

# --- stages: each a static library that sees only those to its left -------------------------------------------------

STAGES := support syntax model compute check emit commands
stage_sources = $(wildcard src/$(1)/*.c src/$(1)/*/*.c)
stage_objects = $(patsubst src/%.c,$(2)/objects/%.o,$(call stage_sources,$(1))) \
	$(if $(filter syntax,$(1)),$(2)/objects/generated/scanner.o $(2)/objects/generated/grammar.o)
# links_STAGE: the stage and those to its left, in link order.
left :=
$(foreach s,$(STAGES),$(eval left := $(s) $(left))$(eval links_$(s) := $(left)))
SOURCES := $(foreach s,$(STAGES),$(call stage_sources,$(s)))
HEADERS := $(wildcard src/*/*.h src/*/*/*.h)
UNIT_TESTS := $(patsubst tests/unit/%.c,%,$(wildcard tests/unit/*/test_*.c))
# Programs that scripts of tests/ run.
UNIT_DRIVERS := $(patsubst tests/unit/%.c,%,$(wildcard tests/unit/*/driver_*.c))

# --- made sources ---------------------------------------------------------------------------------------------------

MADE := build/generated
GRAMMAR_MADE := $(MADE)/syntax/scanner.c $(MADE)/syntax/scanner.h $(MADE)/syntax/grammar.c $(MADE)/syntax/grammar.h \
	$(MADE)/syntax/word_slots.h $(MADE)/syntax/unit_slots.h
EMBEDDED := $(wildcard src/emit/*/*.sh src/emit/*/*.css src/emit/*/*.js src/emit/*/*.html src/commands/*.wet) grammar/reference.ebnf
embedded_name = $(subst .,_,$(subst -,_,$(notdir $(1))))
EMBEDDED_MADE := $(foreach f,$(EMBEDDED),$(MADE)/embedded/$(call embedded_name,$(f)).h) $(MADE)/embedded/explain.h
EXPLAIN := $(sort $(wildcard src/check/explain/*.md))

$(MADE)/syntax/scanner.c $(MADE)/syntax/scanner.h &: grammar/wetside.l
	$(call say,FLEX,$<)
	$(Q)mkdir -p $(@D)
	$(Q)$(FLEX) --header-file=$(MADE)/syntax/scanner.h -o $(MADE)/syntax/scanner.c $<

# The grammar with the keywords and the rules of its other file put in; `#line` says where each line comes from.
$(MADE)/syntax/grammar.y: src/syntax/words.def grammar/wetside.y grammar/day.y grammar/keywords.awk
	$(call say,GRAMMAR)
	$(Q)mkdir -p $(@D)
	$(Q)awk -f grammar/keywords.awk src/syntax/words.def grammar/wetside.y >$@

$(MADE)/syntax/%_slots.h: src/syntax/%s.def grammar/slots.awk
	$(call say,SLOTS,$<)
	$(Q)mkdir -p $(@D)
	$(Q)LC_ALL=C awk -f grammar/slots.awk $< >$@

$(MADE)/syntax/grammar.c $(MADE)/syntax/grammar.h &: $(MADE)/syntax/grammar.y
	$(call say,BISON,grammar)
	$(Q)$(BISON) -Wall $(WERROR) --header=$(MADE)/syntax/grammar.h -o $(MADE)/syntax/grammar.c $<

# The bytes of a file as character constants, and a NUL: exact, and within C's limit on the length of a string.
bytes_of = { od -An -v -to1 $(1) | sed "s/ *\([0-7][0-7]*\)/'\\\\\\1',/g" && echo 0; }

define embedded_rule
$(MADE)/embedded/$(call embedded_name,$(1)).h: $(1)
	$$(call say,EMBED,$$<)
	$$(Q)mkdir -p $$(@D)
	$$(Q){ echo '#include <stddef.h>' && echo 'static const char $(call embedded_name,$(1))[] = {' && \
		$$(call bytes_of,$$<) && \
		echo '};' && echo 'static const size_t $(call embedded_name,$(1))_length = sizeof($(call embedded_name,$(1))) - 1;'; \
	} >$$@
endef
$(foreach f,$(EMBEDDED),$(eval $(call embedded_rule,$(f))))

# The folder is a prerequisite too: its date changes when a text is added or taken away.
$(MADE)/embedded/explain.h: $(EXPLAIN) $(wildcard src/check/explain)
	$(call say,EMBED,src/check/explain)
	$(Q)mkdir -p $(@D)
	$(Q){ echo '#include <stddef.h>' && \
		echo 'struct explain_text { const char *id; const char *text; size_t length; };' && \
		for id in $(notdir $(EXPLAIN:.md=)); do \
			echo "static const char explain_text_$$(echo "$$id" | tr - _)[] = {" && \
			$(call bytes_of,src/check/explain/$$id.md) && echo '};' || exit 1; \
		done && \
		echo 'static const struct explain_text explain_texts[] = {' && \
		for id in $(notdir $(EXPLAIN:.md=)); do \
			name=explain_text_$$(echo "$$id" | tr - _) && echo "{ \"$$id\", $$name, sizeof($$name) - 1 },"; \
		done && \
		$(if $(EXPLAIN),,echo '{ NULL, NULL, 0 }' &&) \
		echo '};' && echo 'static const size_t explain_text_count = $(words $(EXPLAIN));'; \
	} >$@

# --- builds: plain, sanitized, measured -----------------------------------------------------------------------------

# $(1) folder, $(2) flags of this build
define build
$(1)/wetside: $(links_commands:%=$(1)/lib%.a)
	$$(call say,LINK)
	$$(Q)$$(CC) $$(CFLAGS) $(2) $$(LDFLAGS) -o $$@ $$^ $$(MODULE_LIBS)

$(1)/objects/generated/%.o: $(MADE)/syntax/%.c $(1)/flags | $(GRAMMAR_MADE)
	$$(call say,CC)
	$$(Q)mkdir -p $$(@D)
	$$(Q)$$(COMPILE) $(2) -MMD -MP -c -o $$@ $$<

$(1)/objects/%.o: src/%.c $(1)/flags | $(GRAMMAR_MADE) $(EMBEDDED_MADE)
	$$(call say,CC)
	$$(Q)mkdir -p $$(@D)
	$$(Q)$$(COMPILE) $(2) -MMD -MP -c -o $$@ $$<

$(1)/objects/unit/%.o: tests/unit/%.c $(1)/flags | $(GRAMMAR_MADE) $(EMBEDDED_MADE)
	$$(call say,CC)
	$$(Q)mkdir -p $$(@D)
	$$(Q)$$(COMPILE) -Itests/unit $(2) -MMD -MP -c -o $$@ $$<

# A fuzzer as one function among others, which driver_replay calls.
$(1)/objects/fuzz/%.o: tests/fuzz/%.c $(1)/flags | $(GRAMMAR_MADE) $(EMBEDDED_MADE)
	$$(call say,CC)
	$$(Q)mkdir -p $$(@D)
	$$(Q)$$(COMPILE) -DLLVMFuzzerTestOneInput=$$*_one $(2) -MMD -MP -c -o $$@ $$<

$(1)/unit/commands/driver_replay: $(patsubst tests/fuzz/%.c,$(1)/objects/fuzz/%.o,$(wildcard tests/fuzz/*.c))

# Holds the flags of the last build; objects made with others are made anew.
$(1)/flags: FORCE
	$$(Q)mkdir -p $$(@D)
	$$(Q)printf '%s\n' '$$(subst ','\'',$$(COMPILE) $(2))' | cmp -s - $$@ || \
		printf '%s\n' '$$(subst ','\'',$$(COMPILE) $(2))' >$$@

$(foreach s,$(STAGES),$(call library,$(s),$(1)))
$(foreach t,$(UNIT_TESTS) $(UNIT_DRIVERS),$(call unit_test,$(t),$(1),$(2)))
-include $$(wildcard $(1)/objects/*/*.d $(1)/objects/*/*/*.d)
endef

# $(1) stage, $(2) folder. The folders of the sources are prerequisites too: a file taken away leaves the library.
define library

$(2)/lib$(1).a: $(call stage_objects,$(1),$(2)) $(sort $(dir $(call stage_sources,$(1))))
	$$(call say,AR)
	$$(Q)rm -f $$@
	$$(Q)$$(AR) rcs $$@ $$(filter %.o,$$^)
endef

# $(1) stage/test_name, $(2) folder, $(3) flags
define unit_test

$(2)/unit/$(1): $(2)/objects/unit/$(1).o $(foreach s,$(links_$(firstword $(subst /, ,$(1)))),$(2)/lib$(s).a)
	$$(call say,LINK)
	$$(Q)mkdir -p $$(@D)
	$$(Q)$$(CC) $$(CFLAGS) $(3) $$(LDFLAGS) -o $$@ $$(filter %.o,$$^) $$(filter %.a,$$^) $$(MODULE_LIBS) $$(CMOCKA_LIBS)
endef

$(eval $(call build,build,))
$(eval $(call build,build/asan,$(SANITIZE_FLAGS)))
$(eval $(call build,build/cover,$(COVERAGE_FLAGS)))
$(eval $(call build,build/mutants,$(MUTANT_FLAGS)))
$(eval $(call build,build/deb,))
$(eval $(call build,build/fuzz,$(FUZZ_FLAGS)))

asan: build/asan/wetside ## build build/asan/wetside (address and undefined behaviour sanitizers)

# --- trying it out --------------------------------------------------------------------------------------------------

demo: ## install what is missing, build, and write every output of one recipe to build/demo/
	@$(call install,building,$(BUILD_PACKAGES))
	@$(MAKE) $(JOBS) --no-print-directory build/wetside
	@tests/demo

# --- installing and packing (GNU names; PREFIX is prefix) ------------------------------------------------------------

PREFIX ?= /usr/local
prefix ?= $(PREFIX)
exec_prefix ?= $(prefix)
bindir ?= $(exec_prefix)/bin
datarootdir ?= $(prefix)/share
datadir ?= $(datarootdir)
mandir ?= $(datarootdir)/man
docdir ?= $(datarootdir)/doc/wetside
bashcompletiondir ?= $(datarootdir)/bash-completion/completions
zshcompletiondir ?= $(datarootdir)/zsh/site-functions
fishcompletiondir ?= $(datarootdir)/fish/vendor_completions.d
INSTALL ?= install
# The program that is installed; a package has one with flags of its own.
PROGRAM ?= build/wetside

COMPLETIONS := src/commands/completions
INSTALLED_DOCS := README.md LICENSE $(wildcard docs/*.md docs/schemas/*.json docs/pictures/*.png examples/*.wet examples/*.csv)
INSTALLED_EDITOR := $(patsubst grammar/editor/%,%,$(sort $(wildcard grammar/editor/*/* grammar/editor/*/*/*)))
INSTALLED_EDITOR := $(filter-out $(patsubst %/,%,$(dir $(INSTALLED_EDITOR))),$(INSTALLED_EDITOR))
put = $(INSTALL) -d -m 755 "$(DESTDIR)$$(dirname "$(3)")" && $(INSTALL) -m $(1) $(2) "$(DESTDIR)$(3)"
# Calls $(1) with mode, file and place for each file that is installed.
each_installed = $(call $(1),755,$(PROGRAM),$(bindir)/wetside) \
	$(call $(1),644,docs/man/wetside.1,$(mandir)/man1/wetside.1) \
	$(call $(1),644,docs/man/wetside.5,$(mandir)/man5/wetside.5) \
	$(call $(1),644,$(COMPLETIONS)/wetside.bash,$(bashcompletiondir)/wetside) \
	$(call $(1),644,$(COMPLETIONS)/_wetside,$(zshcompletiondir)/_wetside) \
	$(call $(1),644,$(COMPLETIONS)/wetside.fish,$(fishcompletiondir)/wetside.fish) \
	$(foreach f,$(INSTALLED_DOCS),$(call $(1),644,$(f),$(docdir)/$(patsubst docs/%,%,$(f)))) \
	$(foreach f,$(INSTALLED_EDITOR),$(call $(1),644,grammar/editor/$(f),$(datadir)/wetside/editor/$(f)))
install_one = $(put) &&
uninstall_one = rm -f "$(DESTDIR)$(3)" &&

install: $(PROGRAM) ## install below PREFIX (/usr/local); DESTDIR is put before
	$(call say,INSTALL,$(DESTDIR)$(prefix))
	$(Q)umask 022 && $(call each_installed,install_one) :

uninstall: ## remove what `make install` put there
	$(call say,REMOVE,$(DESTDIR)$(prefix))
	$(Q)$(call each_installed,uninstall_one) :
	$(Q)for folder in "$(docdir)" "$(datadir)/wetside"; do \
		[ ! -d "$(DESTDIR)$$folder" ] || find "$(DESTDIR)$$folder" -depth -type d -exec rmdir {} + 2>/dev/null || :; \
	done

VERSION = $(shell sed -n 's/^.define WETSIDE_VERSION "\(.*\)"/\1/p' src/commands/version.h)
# The date of the version is that of its man page, unless SOURCE_DATE_EPOCH says another.
SOURCE_DATE_EPOCH ?= $(shell date -u -d "$$(sed -n '1s/^.Dd //p' docs/man/wetside.1)" +%s)
DIST := build/dist/wetside-$(VERSION)

dist: ## write build/dist/wetside-VERSION.tar.gz, the same bytes wherever it is made
	$(call say,DIST,$(DIST).tar.gz)
	$(Q)docs/package/dist '$(DIST).tar.gz' 'wetside-$(VERSION)' '$(SOURCE_DATE_EPOCH)'

deb: ## write build/deb/wetside_VERSION_ARCHITECTURE.deb, the same bytes wherever it is made
	+$(Q)$(call deb_make) build/deb/wetside
	+$(Q)rm -rf build/deb/tree && umask 022 && $(call deb_make) PROGRAM=build/deb/wetside DESTDIR=build/deb/tree prefix=/usr \
		zshcompletiondir=/usr/share/zsh/vendor-completions install
	$(call say,DEB,build/deb)
	$(Q)docs/package/deb build/deb/tree '$(VERSION)' '$(SOURCE_DATE_EPOCH)'

buildflags = DEB_BUILD_MAINT_OPTIONS=hardening=+all dpkg-buildflags --get
DEB_FLAGS = $(eval DEB_FLAGS := $$(shell $(buildflags) CFLAGS) -ffile-prefix-map=$(CURDIR)=.)$(DEB_FLAGS)
deb_make = $(MAKE) --no-print-directory CFLAGS='$(DEB_FLAGS)' CPPFLAGS="$$($(buildflags) CPPFLAGS)" \
	LDFLAGS="$$($(buildflags) LDFLAGS)"

# --- tests ----------------------------------------------------------------------------------------------------------

FAULTS_BUILD := build/faults/injector.so build/faults/wetside
PLAIN_BUILD := build/wetside $(UNIT_TESTS:%=build/unit/%) $(UNIT_DRIVERS:%=build/unit/%) $(FAULTS_BUILD)
ASAN_BUILD := build/asan/wetside $(UNIT_TESTS:%=build/asan/unit/%) $(UNIT_DRIVERS:%=build/asan/unit/%)
MUTANT_BUILD := build/mutants/wetside $(UNIT_TESTS:%=build/mutants/unit/%) $(UNIT_DRIVERS:%=build/mutants/unit/%)
COVER_BUILD := $(FAULTS_BUILD) build/cover/wetside $(UNIT_TESTS:%=build/cover/unit/%) $(UNIT_DRIVERS:%=build/cover/unit/%)

check: $(PLAIN_BUILD) ## the quick core: unit tests, language, checks, structure
	@tests/run --core

test: ## install what is missing, then everything: all suites, the sanitizer build, valgrind, browser
	@$(call install,building and testing,$(BUILD_PACKAGES) $(TEST_PACKAGES))
	@$(MAKE) $(JOBS) --no-print-directory $(PLAIN_BUILD) $(ASAN_BUILD) node-modules
	@tests/run

node-modules: tests/node/node_modules/.package-lock.json

tests/node/node_modules/.package-lock.json: tests/node/package.json tests/node/package-lock.json
	$(call say,NPM)
	$(Q)cd tests/node && npm ci --no-audit --no-fund --ignore-scripts --loglevel=error
	$(Q)touch $@

golden-update: build/wetside ## write the expected outputs anew and show what changed
	@tests/outputs/golden.py --update

pictures: build/wetside node-modules ## draw docs/pictures/ anew, with a browser
	@docs/pictures/make

SECONDS ?= 60
FUZZERS := $(patsubst tests/fuzz/%.c,build/fuzz/%,$(wildcard tests/fuzz/fuzz_*.c))

# What several fuzzers use.
FUZZ_SHARED := $(filter-out tests/fuzz/fuzz_%,$(wildcard tests/fuzz/*.c))

build/fuzz/fuzz_%: tests/fuzz/fuzz_%.c $(FUZZ_SHARED) $(wildcard tests/fuzz/*.h) $(links_commands:%=build/fuzz/lib%.a)
	$(call say,FUZZER)
	$(Q)$(COMPILE) $(FUZZ_FLAGS) -fsanitize=fuzzer $(LDFLAGS) -o $@ $(filter %.c,$^) $(filter %.a,$^) $(MODULE_LIBS)

fuzz: build/wetside ## give each reader bytes that nobody would write, for SECONDS=60
	@$(MAKE) $(JOBS) --no-print-directory CC='$(patsubst %gcc,%clang,$(CC))' CFLAGS=-g $(FUZZERS)
	@tests/fuzz/run $(SECONDS)

bench: ## measure speed and memory on large recipes and days, beside general programs on inputs of the same size
	@$(call install,measuring,$(BUILD_PACKAGES) $(BENCH_PACKAGES))
	@$(MAKE) $(JOBS) --no-print-directory build/wetside build/unit/compute/driver_packing
	@tests/bench/bench.py

# Loaded before the program's libraries by the tests that make its calls fail.
build/faults/injector.so: tests/faults/injector.c
	$(call say,FAULTS)
	$(Q)mkdir -p $(@D)
	$(Q)$(CC) -std=gnu11 -Wall -Wextra $(WERROR) $(CFLAGS) -fPIC -shared -o $@ $< -ldl

# The program with an arena that asks the system for each allocation.
build/faults/wetside: src/support/arena.c $(links_commands:%=build/lib%.a)
	$(call say,FAULTS)
	$(Q)mkdir -p $(@D)
	$(Q)$(COMPILE) '-DFIRST_BLOCK=((size_t)64)' '-DLARGEST_BLOCK=((size_t)64)' -DLARGEST_SPARE=0 $(LDFLAGS) -o $@ $^ $(MODULE_LIBS)

MEASURED := $(filter-out bench lint mutation node,$(patsubst tests/%/,%,$(wildcard tests/*/)))

cover: $(COVER_BUILD) node-modules ## run the suites with gcov; lines and branches of each file; fails where too few were run
	@find build/cover -name '*.gcda' -exec rm -f {} +
	@tests/run --build build/cover $(MEASURED); tests/coverage.py build/cover

MUTANTS ?=
mutants: $(MUTANT_BUILD) $(ASAN_BUILD) ## make mistakes on purpose in src/check and src/compute: which does no test notice? (MUTANTS=options)
	@COMPILE='$(COMPILE)' LINK='$(CC) $(CFLAGS) $(LDFLAGS)' LIBS='$(MODULE_LIBS) $(CMOCKA_LIBS)' nice tests/mutation/run $(MUTANTS)

SHELL_SCRIPTS := .ci/run docs/package/dist docs/package/deb src/commands/completions/wetside.bash $(wildcard tests/demo tests/*/*.sh src/emit/*/*.sh)
LINT := lint-clang lint-tidy lint-cppcheck lint-shell
# The embedded texts cut down to a line each: linters take seconds for a hundred thousand bytes, and find nothing in them.
LINT_EMBEDDED := $(EMBEDDED_MADE:$(MADE)/%=build/lint/%)
lint_flags = $(LANGUAGE_FLAGS) -Ibuild/lint $(INCLUDE_FLAGS) $(MODULE_CFLAGS)
# $(1) the checks, beside those of .clang-tidy; $(2) the sources. Sees clang's own warnings too.
clang_tidy = printf '%s\n' $(2) | xargs -P $$(nproc) -n 8 \
	sh -c 'clang-tidy --quiet --checks=$(1) "$$@" -- $(lint_flags) $(filter-out -Werror,$(WARNING_FLAGS)) 2>/dev/null' sh
# What a linter has to look at again: the sources that changed since it last found nothing, all of them where more changed.
lint_changed = $(if $(filter-out $(1),$?),$(1),$?)

lint: $(LINT) lint-analyzer lint-gcc ## clang's warnings, clang-tidy, cppcheck, shellcheck, and the analyzers of clang and gcc (slow)
$(LINT): %: build/lint/%.ok

build/lint/embedded/%.h: $(MADE)/embedded/%.h
	$(Q)mkdir -p $(@D)
	$(Q)awk "/^'/ { if (seen++) next } !/^'/ { seen = 0 } { print }" $< >$@

# The versions and options of the linters, so that others look at everything anew.
build/lint/how: FORCE
	$(Q)mkdir -p $(@D)
	$(Q){ clang-tidy --version; cppcheck --version; shellcheck --version; printf '%s\n' '$(lint_flags) $(WARNING_FLAGS)'; } 2>&1 | \
		{ cat >$@.now; cmp -s $@.now $@ || mv $@.now $@; rm -f $@.now; }

LINT_WITH := Makefile build/lint/how $(HEADERS) $(wildcard src/*/*.def) $(GRAMMAR_MADE) $(LINT_EMBEDDED)

build/lint/lint-clang.ok: $(LINT_WITH)
	$(call say,CLANG,$(MADE))
	$(Q)clang -fsyntax-only $(lint_flags) $(WARNING_FLAGS) $(filter %.c,$(GRAMMAR_MADE))
	$(Q)touch $@

build/lint/lint-tidy.ok: $(SOURCES) $(LINT_WITH) .clang-tidy
	$(call say,TIDY,src)
	$(Q)$(call clang_tidy,-clang-analyzer-*,$(call lint_changed,$(SOURCES)))
	$(Q)touch $@

build/lint/lint-cppcheck.ok: $(SOURCES) $(LINT_WITH)
	$(call say,CPPCHECK,src)
	$(Q)cppcheck --quiet -j $$(nproc) --std=c11 --error-exitcode=1 --inline-suppr \
		--enable=warning,performance,portability --suppress=missingIncludeSystem --suppress=toomanyconfigs \
		--suppress=invalidFunctionArg -Ibuild/lint $(INCLUDE_FLAGS) $(call lint_changed,$(SOURCES))
	$(Q)touch $@

build/lint/lint-shell.ok: $(SHELL_SCRIPTS) Makefile build/lint/how
	$(call say,SHELL,$(words $(SHELL_SCRIPTS)) scripts)
	$(Q)shellcheck $(SHELL_SCRIPTS)
	$(Q)touch $@

# Without the sources that bison and flex make, and without a word of functions that it gives up on.
lint-gcc: $(GRAMMAR_MADE) $(LINT_EMBEDDED)
	$(call say,ANALYZE,src with gcc)
	$(Q)printf '%s\n' $(SOURCES) | xargs -P $$(nproc) -n 1 \
		gcc $(lint_flags) -O1 -fanalyzer -Wno-analyzer-too-complex -Werror -c -o /dev/null

lint-analyzer: $(GRAMMAR_MADE) $(LINT_EMBEDDED)
	$(call say,ANALYZE,src)
	$(Q)$(call clang_tidy,,$(SOURCES))

tables: build/wetside ## bring the documents and editor grammars up to date with the tables
	$(Q)for script in $$(grep -l -e --write tests/structure/docs_*.py tests/structure/editor_*.py); do $$script --write || exit; done

format: ## lay the C sources out by .clang-format
	$(Q)clang-format -i $(SOURCES) $(HEADERS) $(wildcard tests/unit/*/*.c tests/unit/*.h)

clean: ## remove everything made
	rm -rf build tests/node/node_modules

help: ## this list
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "  make %-14s %s\n", $$1, $$2 }' Makefile

FORCE:
.PHONY: all asan fuzz install uninstall dist deb tables demo check test node-modules golden-update pictures bench cover mutants lint $(LINT) lint-analyzer lint-gcc \
	format clean help FORCE

# --- packages -------------------------------------------------------------------------------------------------------

# $(1) what for, $(2) the list. Silent and quick where nothing is missing.
define install
missing=; plain=; \
for entry in $(2); do \
	package=$${entry%%[:=]*}; \
	case $$entry in \
	*:*) command -v "$${entry#*:}" >/dev/null || missing="$$missing $$package" ;; \
	*=*) $(PKG_CONFIG) --exists "$${entry#*=}" 2>/dev/null || missing="$$missing $$package" ;; \
	*) plain="$$plain $$package" ;; \
	esac; \
done; \
if command -v dpkg-query >/dev/null; then \
	have=$$(dpkg-query -W -f '|$${Package} $${db:Status-Status}|' $$plain 2>/dev/null); \
	for package in $$plain; do \
		case $$have in *"|$$package installed|"*) ;; *) missing="$$missing $$package" ;; esac; \
	done; \
fi; \
if [ -n "$$missing" ]; then \
	say_missing() { echo "wetside: $(1) needs these packages, which $$1:$$missing" >&2; exit 1; }; \
	command -v apt-get >/dev/null || say_missing 'this system gets another way (README.md names them)'; \
	as_root=; [ "$$(id -u)" = 0 ] || as_root=sudo; \
	[ -z "$$as_root" ] || command -v sudo >/dev/null || say_missing 'an administrator has to install'; \
	echo "wetside: installing$$missing"; \
	get() { $$as_root env DEBIAN_FRONTEND=noninteractive apt-get -q=2 -o Dpkg::Use-Pty=0 "$$@" </dev/null >/dev/null; }; \
	get install -y --no-install-recommends $$missing 2>/dev/null || \
		{ get update && get install -y --no-install-recommends $$missing; } || say_missing 'apt-get could not install'; \
fi
endef
