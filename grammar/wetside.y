/* The grammar of the language. It reads top to bottom as docs/language.md does; grammar/reference.ebnf is the same
 * without the actions. The tree is built by the actions: a rule's value is a chain of sibling nodes.
 * grammar/keywords.awk puts in what stands behind an `@` at the start of a line: the keywords of syntax/words.def, and
 * the rules for days and rolls (grammar/day.y).
 *
 * Keywords are soft: each may be a name (rule `name`), so a new keyword never breaks an old recipe. Lists are
 * left-recursive, blocks do not nest, and recovery happens at clause ends only, so that a mistake costs one message. */

%code requires {
#include "syntax/feed.h"
}

%code top {
/* Parser of the language, made from grammar/wetside.y. */
#include "syntax/recovery.h"
#include "syntax/syntax_error.h"
}

%define api.pure full
%define api.prefix {grammar_}
%define api.token.raw
%define api.value.type {struct node_list}
%define api.location.type {struct span}
%define parse.error custom
%define parse.lac full
%expect 0
%locations
%param {struct feed *feed}

%code {
#define YYLLOC_DEFAULT(current, rhs, n)                                                                                \
	do {                                                                                                           \
		if (n)                                                                                                 \
			(current) = span_join(YYRHSLOC(rhs, 1), YYRHSLOC(rhs, n));                                     \
		else                                                                                                   \
			(current) = (struct span){ YYRHSLOC(rhs, 0).begin + YYRHSLOC(rhs, 0).length, 0 };              \
	} while (0)

/* Lists are left-recursive and blocks do not nest, so the parser's own stack (200 deep) is never outgrown: there is
 * nothing to allocate. */
#define YYMALLOC(size) ((void)(size), NULL)
#define YYFREE(pointer) ((void)(pointer))

#define EMPTY ((struct node_list){ 0, 0 })
#define NODE(kind, span, children) tree_add(feed->tree, feed->arena, NODE_##kind, 0, (span), (children))
#define LEAF(kind, span) NODE(kind, span, EMPTY)
#define CHAIN(front, back) tree_chain(feed->tree, (front), (back))

static int grammar_lex(struct node_list *value, struct span *span, struct feed *feed)
{
	struct feed_token token;

	feed_next(feed, &token);
	*span = token.span;
	*value = (struct node_list){ (node_index)token.unit, 0 };
	return token.kind;
}

static void grammar_error(struct span *span, struct feed *feed, const char *message);
}

/* Tokens with a text of their own. */
%token END_OF_FILE 0 "the end of the file"
%token END "the end of the clause"
%token OPEN "{"
%token CLOSE "}"
%token COMMA ","
%token RANGE ".."
%token PLUS_MINUS "±"
%token TIMES "x"
%token NAME "a name"
%token STRING "a text in quotes"
%token NUMBER "a figure"
%token UNIT "a unit"
%token CLOCK "a time"
%token DATE "a date"
%token DILUTION "a dilution"
%token ODD "a character without meaning"

/* Keywords. */
@tokens

%%

/* ---- files ---------------------------------------------------------------------------------------------------- */

/* Every list has this shape: what was read so far is never given up for a mistake that comes after it. */

file
        : declarations                  { feed->tree->first = $1.first; }
        | declarations declaration      { feed->tree->first = CHAIN($1, $2).first; }
        | declarations error            { feed->tree->first = $1.first; }
        ;

declarations
        : %empty                        { $$ = EMPTY; }
        | declarations end
        | declarations declaration end  { $$ = CHAIN($1, $2); }
        | declarations error end
        ;

/* The one place where recovery ends: a clause end was read. */
end
        : END                           { yyerrok; $$ = EMPTY; }
        ;

declaration
        : W_WETSIDE number              { $$ = NODE(wetside, @$, $2); }
        | W_USE string                  { $$ = NODE(use, @$, $2); }
        | W_TANK head OPEN tank_body CLOSE { $$ = NODE(tank, @$, CHAIN($2, $4)); }
        | W_GRADUATE head OPEN graduate_body CLOSE { $$ = NODE(graduate, @$, CHAIN($2, $4)); }
        | W_HEATER head OPEN heater_body CLOSE { $$ = NODE(heater, @$, CHAIN($2, $4)); }
        | W_DRYER head OPEN dryer_body CLOSE { $$ = NODE(dryer, @$, CHAIN($2, $4)); }
        | W_THERMOMETER head OPEN thermometer_body CLOSE { $$ = NODE(thermometer, @$, CHAIN($2, $4)); }
        | W_SOLUTION head OPEN solution_body CLOSE { $$ = NODE(solution, @$, CHAIN($2, $4)); }
        | W_FILM head OPEN film_body CLOSE { $$ = NODE(film, @$, CHAIN($2, $4)); }
        | W_PROCESS head parent OPEN process_body CLOSE { $$ = NODE(process, @$, CHAIN(CHAIN($2, $3), $5)); }
        | W_DAY date_head OPEN day_body CLOSE { $$ = NODE(day, @$, CHAIN($2, $4)); }
        | roll
        | on_hand
        | W_ALLOW name string           { $$ = NODE(allow, @$, CHAIN($2, $3)); }
        ;

on_hand
        : W_ON W_HAND name value mixed done { $$ = NODE(on_hand, @$, CHAIN(CHAIN($3, $4), CHAIN($5, $6))); }
        ;

mixed
        : %empty { $$ = EMPTY; } | W_MIXED date { $$ = NODE(mixed, @$, $2); }
        ;

done
        : %empty { $$ = EMPTY; } | W_DONE number W_ROLLS { $$ = NODE(done, @$, $2); }
        ;

head
        : name
        | name string                   { $$ = CHAIN($1, $2); }
        ;

parent
        : %empty { $$ = EMPTY; } | W_FROM name { $$ = NODE(parent, @$, $2); }
        ;

/* ---- clauses that stand in every block ------------------------------------------------------------------------- */

common_clause
        : W_NOTE string                 { $$ = NODE(note, @$, $2); }
        | W_ALLOW name string           { $$ = NODE(allow, @$, CHAIN($2, $3)); }
        ;

/* ---- vessels and tools ------------------------------------------------------------------------------------------ */

tank_body
        : tank_clauses | tank_clauses tank_clause { $$ = CHAIN($1, $2); } | tank_clauses error
        ;

tank_clauses
        : %empty { $$ = EMPTY; } | tank_clauses end
        | tank_clauses tank_clause end { $$ = CHAIN($1, $2); } | tank_clauses error end
        ;

tank_clause
        : common_clause
        | W_HOLDS value                 { $$ = NODE(holds, @$, $2); }
        | W_TAKES pieces_list           { $$ = NODE(takes, @$, $2); }
        | W_FILL value                  { $$ = NODE(fill, @$, $2); }
        | W_DRAIN value                 { $$ = NODE(drain, @$, $2); }
        | W_EMPTIED W_THROUGH W_LID     { $$ = LEAF(emptied_through_lid, @$); }
        | W_EMPTIED W_FROM W_BOTTOM     { $$ = LEAF(emptied_from_bottom, @$); }
        | W_REELS W_LOWERED             { $$ = LEAF(reels_lowered, @$); }
        | W_BATH measure                { $$ = NODE(bath, @$, $2); }
        | cools
        | W_ABSORBS value               { $$ = NODE(absorbs, @$, $2); }
        | W_CARRIES value W_PER W_REEL  { $$ = NODE(carries, @$, $2); }
        ;

pieces_list: pieces | pieces_list W_OR pieces { $$ = CHAIN($1, $3); };

pieces
        : number TIMES format { $$ = NODE(pieces, @$, CHAIN($1, $3)); }
        ;

format
        : number
        | number TIMES number           { $$ = CHAIN($1, $3); }
        | name
        ;

cools
        : W_COOLS value W_TO value W_WITHIN value W_IN article surroundings W_AT value
                                        { $$ = NODE(cools, @$, CHAIN(CHAIN($2, $4), CHAIN($6, $11))); }
        ;

article
        : %empty { $$ = EMPTY; } | W_A { $$ = EMPTY; }
        ;

surroundings
        : W_ROOM { $$ = EMPTY; } | W_BATH { $$ = EMPTY; }
        ;

graduate_body
        : graduate_clauses | graduate_clauses graduate_clause { $$ = CHAIN($1, $2); } | graduate_clauses error
        ;

graduate_clauses
        : %empty { $$ = EMPTY; } | graduate_clauses end
        | graduate_clauses graduate_clause end { $$ = CHAIN($1, $2); } | graduate_clauses error end
        ;

graduate_clause
        : common_clause
        | W_HOLDS value                 { $$ = NODE(holds, @$, $2); }
        | cools
        ;

heater_body
        : heater_clauses | heater_clauses heater_clause { $$ = CHAIN($1, $2); } | heater_clauses error
        ;

heater_clauses
        : %empty { $$ = EMPTY; } | heater_clauses end
        | heater_clauses heater_clause end { $$ = CHAIN($1, $2); } | heater_clauses error end
        ;

heater_clause
        : common_clause
        | W_GIVES value W_PER name      { $$ = NODE(gives, @$, CHAIN($2, $4)); }
        | W_STORES value                { $$ = NODE(stores, @$, $2); }
        ;

dryer_body
        : dryer_clauses | dryer_clauses dryer_clause { $$ = CHAIN($1, $2); } | dryer_clauses error
        ;

dryer_clauses
        : %empty { $$ = EMPTY; } | dryer_clauses end
        | dryer_clauses dryer_clause end { $$ = CHAIN($1, $2); } | dryer_clauses error end
        ;

dryer_clause
        : common_clause
        | W_TAKES number W_ROLLS        { $$ = NODE(takes_rolls, @$, $2); }
        | W_FOR value                   { $$ = NODE(lasts, @$, $2); }
        | W_UP W_TO value               { $$ = NODE(up_to, @$, $3); }
        | W_LENGTH value                { $$ = NODE(length, @$, $2); }
        ;

thermometer_body
        : thermometer_clauses | thermometer_clauses thermometer_clause { $$ = CHAIN($1, $2); }
        | thermometer_clauses error
        ;

thermometer_clauses
        : %empty { $$ = EMPTY; } | thermometer_clauses end
        | thermometer_clauses thermometer_clause end { $$ = CHAIN($1, $2); } | thermometer_clauses error end
        ;

thermometer_clause
        : common_clause
        | W_READS value                 { $$ = NODE(reads, @$, $2); }
        | W_READS value W_WITHIN value  { $$ = NODE(reads, @$, CHAIN($2, $4)); }
        | W_CORRECTION value            { $$ = NODE(correction, @$, $2); }
        | W_CHECKED date                { $$ = NODE(checked, @$, $2); }
        ;

/* ---- solutions -------------------------------------------------------------------------------------------------- */

solution_body
        : solution_clauses | solution_clauses solution_clause { $$ = CHAIN($1, $2); } | solution_clauses error
        ;

solution_clauses
        : %empty { $$ = EMPTY; } | solution_clauses end
        | solution_clauses solution_clause end { $$ = CHAIN($1, $2); } | solution_clauses error end
        ;

solution_clause
        : common_clause
        | W_ROLE name                   { $$ = NODE(role, @$, $2); }
        | W_KIT W_MAKES value           { $$ = NODE(kit, @$, $3); }
        | W_KIT W_MAKES value COMMA name { $$ = NODE(kit, @$, CHAIN($3, $5)); }
        | W_STOCK name                  { $$ = NODE(stock, @$, $2); }
        | W_ONE_SHOT                    { $$ = LEAF(one_shot, @$); }
        | W_REUSE                       { $$ = LEAF(reuse, @$); }
        | W_REPLENISH value W_PER W_ROLL { $$ = NODE(replenish, @$, $2); }
        | W_DILUTE dilution             { $$ = NODE(dilute, @$, $2); }
        | W_DILUTE dilution W_FROM name { $$ = NODE(dilute, @$, CHAIN($2, $4)); }
        | W_MIX OPEN parts_body CLOSE        { $$ = NODE(mix, @$, $3); }
        | W_FORMULA W_MAKES value OPEN parts_body CLOSE { $$ = NODE(formula, @$, CHAIN($3, $5)); }
        | W_GRADUATE name               { $$ = NODE(use_graduates, @$, $2); }
        | W_BLEND                       { $$ = LEAF(blend, @$); }
        | W_USABLE measure              { $$ = NODE(usable, @$, $2); }
        | W_CAPACITY number W_ROLLS W_PER value { $$ = NODE(capacity, @$, CHAIN($2, $5)); }
        | W_LENGTHEN value W_PER W_ROLL W_PER value { $$ = NODE(lengthen, @$, CHAIN($2, $6)); }
        | W_LENGTHEN value W_PER W_ROLL W_PER value COMMA W_ADDED W_UP { $$ = NODE(lengthen, @$, CHAIN($2, $6)); }
        | W_LENGTHEN value W_PER W_ROLL W_PER value COMMA W_COMPOUNDED
                                        { $$ = NODE(lengthen_compounded, @$, CHAIN($2, $6)); }
        | W_AT W_LEAST value W_PER W_ROLL { $$ = NODE(least_per_roll, @$, $3); }
        | W_AT W_LEAST value W_STOCK W_PER W_ROLL { $$ = NODE(least_per_roll, @$, $3); }
        | W_KEEPS keepings              { $$ = NODE(keeps, @$, $2); }
        | W_HAZARDS names               { $$ = NODE(hazards, @$, $2); }
        | W_SHEET W_DATED date          { $$ = NODE(sheet_dated, @$, $3); }
        | W_WASTE name                  { $$ = NODE(waste, @$, $2); }
        | W_CONTAINS names              { $$ = NODE(contains, @$, $2); }
        | W_PH number                   { $$ = NODE(ph, @$, $2); }
        | W_CLEARS W_FRESH value        { $$ = NODE(clears, @$, $3); }
        | W_CLEARS W_FRESH value W_NOW value { $$ = NODE(clears, @$, CHAIN($3, $5)); }
        ;

keepings: keeping | keepings COMMA keeping { $$ = CHAIN($1, $3); };

keeping
        : value W_FULL                  { $$ = NODE(keeps_full, @$, $1); }
        | value W_PART W_FULL           { $$ = NODE(keeps_part_full, @$, $1); }
        | value W_IN W_TANK             { $$ = NODE(keeps_in_tank, @$, $1); }
        ;

parts_body
        : parts | parts part { $$ = CHAIN($1, $2); } | parts error
        ;

parts
        : %empty { $$ = EMPTY; } | parts end
        | parts part end { $$ = CHAIN($1, $2); } | parts error end
        ;

part
        : W_NOTE string                 { $$ = NODE(note, @$, $2); }
        | W_WATER value                 { $$ = NODE(water, @$, $2); }
        | W_WATER value W_AT measure    { $$ = NODE(water, @$, CHAIN($2, NODE(at, @4, $4))); }
        | W_ADD what amount stirring drops { $$ = NODE(add, @$, CHAIN(CHAIN($2, $3), CHAIN($4, $5))); }
        | W_STIR value                  { $$ = NODE(stir, @$, $2); }
        | W_STAND value                 { $$ = NODE(stand, @$, $2); }
        | W_TOP W_UP                    { $$ = LEAF(top_up, @$); }
        | W_TOP W_UP W_TO value         { $$ = NODE(top_up, @$, $4); }
        ;

what
        : string
        | name
        | name NAME                     { $$ = CHAIN($1, NODE(hydrate, @2, LEAF(name, @2))); }
        ;

amount
        : %empty { $$ = EMPTY; } | value
        ;

stirring
        : %empty { $$ = EMPTY; } | W_STIRRING value { $$ = NODE(stirring, @$, $2); }
        ;

drops
        : %empty { $$ = EMPTY; } | W_DROPS value { $$ = NODE(drops, @$, $2); }
        ;

/* ---- films ------------------------------------------------------------------------------------------------------ */

film_body
        : film_clauses | film_clauses film_clause { $$ = CHAIN($1, $2); } | film_clauses error
        ;

film_clauses
        : %empty { $$ = EMPTY; } | film_clauses end
        | film_clauses film_clause end { $$ = CHAIN($1, $2); } | film_clauses error end
        ;

film_clause
        : common_clause
        | W_FAMILY name                 { $$ = NODE(family, @$, $2); }
        | W_BACKING name                { $$ = NODE(backing, @$, $2); }
        | W_EMULSION name               { $$ = NODE(emulsion, @$, $2); }
        | W_MADE number                 { $$ = NODE(made, @$, $2); }
        ;

/* ---- processes -------------------------------------------------------------------------------------------------- */

process_body
        : process_clauses | process_clauses process_clause { $$ = CHAIN($1, $2); } | process_clauses error
        ;

process_clauses
        : %empty { $$ = EMPTY; } | process_clauses end
        | process_clauses process_clause end { $$ = CHAIN($1, $2); } | process_clauses error end
        ;

process_clause
        : common_clause
        | W_DEVELOPS name               { $$ = NODE(develops, @$, $2); }
        | W_TANK name                   { $$ = NODE(use_tank, @$, $2); }
        | W_HEATER name                 { $$ = NODE(use_heater, @$, $2); }
        | W_THERMOMETER name            { $$ = NODE(use_thermometer, @$, $2); }
        | W_GRADUATE names              { $$ = NODE(use_graduates, @$, $2); }
        | W_FILM names                  { $$ = NODE(use_films, @$, $2); }
        | W_PUSH number                 { $$ = NODE(push, @$, $2); }
        | W_PULL number                 { $$ = NODE(pull, @$, $2); }
        | W_LOAD loads                  { $$ = NODE(load, @$, $2); }
        | W_ROOM value                  { $$ = NODE(room, @$, $2); }
        | W_RESCUE                      { $$ = LEAF(rescue, @$); }
        | W_WASHLESS                    { $$ = LEAF(washless, @$); }
        | W_WET W_TIME W_UNDER value    { $$ = NODE(wet_limit, @$, $4); }
        | timing
        | step
        | W_WITHOUT W_STEP name         { $$ = NODE(without, @$, $3); }
        ;

loads: load | loads COMMA load { $$ = CHAIN($1, $3); };

load
        : number W_ROLLS                { $$ = NODE(load_rolls, @$, $1); }
        | pieces
        | pieces W_OF number W_EXPOSURES { $$ = NODE(load_exposures, @$, CHAIN($1, $3)); }
        | value W_OF format             { $$ = NODE(load_length, @$, CHAIN($1, $3)); }
        ;

timing
        : W_TIME W_STARTS W_AT W_FIRST W_POUR { $$ = LEAF(starts_at_pour, @$); }
        | W_TIME W_STARTS W_WHEN W_FULL { $$ = LEAF(starts_when_full, @$); }
        | W_TIME W_INCLUDES W_DRAINING  { $$ = LEAF(draining_included, @$); }
        | W_TIME W_EXCLUDES W_DRAINING  { $$ = LEAF(draining_excluded, @$); }
        ;

/* ---- steps: a sentence, braces only where more follows ----------------------------------------------------------- */

step
        : W_STEP name sentence          { $$ = NODE(step, @$, CHAIN($2, $3)); }
        | W_STEP name sentence OPEN step_body CLOSE { $$ = NODE(step, @$, CHAIN(CHAIN($2, $3), $5)); }
        ;

sentence
        : %empty                        { $$ = EMPTY; }
        | sentence sentence_part        { $$ = CHAIN($1, $2); }
        ;

sentence_part
        : W_AFTER name                  { $$ = NODE(after, @$, $2); }
        | W_BEFORE name                 { $$ = NODE(before, @$, $2); }
        | W_AS name                     { $$ = NODE(as, @$, $2); }
        | W_IN name                     { $$ = NODE(in, @$, $2); }
        | W_IN W_RUNNING W_WATER        { $$ = LEAF(in_running_water, @$); }
        | W_AT measure                  { $$ = NODE(at, @$, $2); }
        | W_FOR measure                 { $$ = NODE(for, @$, $2); }
        | W_FOR W_AT W_LEAST value      { $$ = NODE(for, @$, NODE(at_least, @4, $4)); }
        ;

step_body
        : step_clauses | step_clauses step_clause { $$ = CHAIN($1, $2); } | step_clauses error
        ;

step_clauses
        : %empty { $$ = EMPTY; } | step_clauses end
        | step_clauses step_clause end { $$ = CHAIN($1, $2); } | step_clauses error end
        ;

step_clause
        : common_clause
        | timing
        | W_AGITATE W_NONE              { $$ = LEAF(agitate_none, @$); }
        | W_AGITATE phases              { $$ = NODE(agitate, @$, $2); }
        | W_TAP number W_AFTER W_AGITATION { $$ = NODE(tap, @$, $2); }
        | W_TAP number W_FOR value W_AFTER W_AGITATION { $$ = NODE(tap, @$, CHAIN($2, $4)); }
        | W_POUR W_AT measure           { $$ = NODE(pour_at, @$, $3); }
        | W_MEAN measure                { $$ = NODE(mean, @$, $2); }
        | W_MEASURE                     { $$ = LEAF(measure, @$); }
        | W_ROUND W_TO value            { $$ = NODE(round_to, @$, $3); }
        | W_FLOW value W_PER name       { $$ = NODE(flow, @$, CHAIN($2, $4)); }
        | W_CHANGES number              { $$ = NODE(changes, @$, $2); }
        | W_EXPOSE value W_EACH W_SIDE  { $$ = NODE(expose, @$, $2); }
        | W_LIGHTS W_ON                 { $$ = LEAF(lights_on, @$); }
        | W_LIGHTS W_ON W_AFTER value   { $$ = NODE(lights_on, @$, $4); }
        | W_TIME OPEN rows_body CLOSE        { $$ = NODE(times, @$, $3); }
        | W_TIME W_BY W_MAKER OPEN rows_body CLOSE { $$ = NODE(times_by_maker, @$, $5); }
        | W_COEFFICIENT value W_PER name { $$ = NODE(coefficient, @$, CHAIN($2, $4)); }
        | W_ACTIVATION W_ENERGY value   { $$ = NODE(energy, @$, $3); }
        ;

phases: phase | phases COMMA phase { $$ = CHAIN($1, $3); };

phase
        : W_FIRST value                 { $$ = NODE(phase_first, @$, $2); }
        | W_CONTINUOUSLY                { $$ = LEAF(phase_continuous, @$); }
        | W_CONTINUOUSLY W_FOR value    { $$ = NODE(phase_continuous, @$, $3); }
        | repeating
        | W_THEN repeating              { $$ = $2; }
        ;

repeating
        : value W_EVERY value           { $$ = NODE(phase_every, @$, CHAIN($1, $3)); }
        | value W_EVERY value W_FOR value { $$ = NODE(phase_every, @$, CHAIN(CHAIN($1, $3), $5)); }
        ;

rows_body
        : rows
        | rows row                      { $$ = CHAIN($1, $2); }
        | rows error
        ;

rows
        : %empty                        { $$ = EMPTY; }
        | rows end
        | rows row end                  { $$ = CHAIN($1, $2); }
        | rows row COMMA                { $$ = CHAIN($1, $2); }
        | rows error end
        ;

row
        : value value                   { $$ = NODE(row, @$, CHAIN($1, $2)); }
        ;

/* ---- figures, texts and names ----------------------------------------------------------------------------------- */

measure
        : value
        | value PLUS_MINUS value        { $$ = NODE(tolerance, @$, CHAIN($1, $3)); }
        | value RANGE value             { $$ = NODE(range, @$, CHAIN($1, $3)); }
        ;

value
        : number
        | NUMBER UNIT                   { $$ = tree_add(feed->tree, feed->arena, NODE_quantity, $2.first, @$, EMPTY); }
        | CLOCK                         { $$ = LEAF(clock, @$); }
        ;

number
        : NUMBER                        { $$ = LEAF(number, @$); }
        ;

string: STRING { $$ = LEAF(string, @$); };

date
        : DATE                          { $$ = LEAF(date, @$); }
        ;

dilution
        : DILUTION { $$ = LEAF(dilution, @$); }
        ;

names: name | names COMMA name { $$ = CHAIN($1, $3); };

name
        : NAME                          { $$ = LEAF(name, @$); }
        | any_word                      { $$ = LEAF(name, @$); }
        ;

/* Every keyword of syntax/words.def. */
any_word
        : @any_word
        ;

@include day.y

%%

/* Hands the place and what would have fitted to syntax/syntax_error, which knows the words. */
static int yyreport_syntax_error(const yypcontext_t *context, struct feed *feed)
{
	enum { most = YYNTOKENS };
	yysymbol_kind_t symbols[most];
	int fits[most];
	int count = yypcontext_expected_tokens(context, symbols, most);

	for (int i = 0; i < count; i++)
		fits[i] = (int)symbols[i]; /* api.token.raw: a symbol's number is its token's */
	if (!feed_take_fitting(feed, (int)yypcontext_token(context), fits, count < 0 ? 0 : (size_t)count))
		syntax_error_report(feed, (int)yypcontext_token(context), *yypcontext_location(context), fits,
				    count < 0 ? 0 : (size_t)count);
	recovery_give_up(feed, (int)yypcontext_token(context));
	return 0;
}

/* Only called when the parser's stack is spent, which the shape of the grammar rules out. */
static void grammar_error(struct span *span, struct feed *feed, const char *message)
{
	(void)message;
	report_add(feed->report, CHECK_syntax, *span, "the text is nested deeper than can be read");
}
