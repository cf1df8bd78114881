/* Days and rolls: rules of the grammar, put into grammar/wetside.y where it asks for them. */

/* ---- days ------------------------------------------------------------------------------------------------------- */

date_head
        : date
        | date string                   { $$ = CHAIN($1, $2); }
        ;

day_body
        : day_clauses | day_clauses day_clause { $$ = CHAIN($1, $2); } | day_clauses error
        ;

day_clauses
        : %empty { $$ = EMPTY; } | day_clauses end
        | day_clauses day_clause end { $$ = CHAIN($1, $2); } | day_clauses error end
        ;

day_clause
        : common_clause
        | W_START clock                 { $$ = NODE(start, @$, $2); }
        | W_FINISH W_BY clock           { $$ = NODE(finish, @$, $3); }
        | W_BREAK clock W_FOR value     { $$ = NODE(break, @$, CHAIN($2, $4)); }
        | W_ROOM value                  { $$ = NODE(room, @$, $2); }
        | W_RUNS names                  { $$ = NODE(runs, @$, $2); }
        | W_TANKS names                 { $$ = NODE(tanks, @$, $2); }
        | W_REELS reels                 { $$ = NODE(reels, @$, $2); }
        | W_REELS W_DRY W_FOR value     { $$ = NODE(time_reels_dry, @$, $4); }
        | W_DRYER name                  { $$ = NODE(use_dryer, @$, $2); }
        | W_LOAD value W_PER W_ROLL     { $$ = NODE(time_load, @$, $2); }
        | W_HANG value W_PER W_ROLL     { $$ = NODE(time_hang, @$, $2); }
        | W_TAKE W_DOWN value W_PER W_ROLL { $$ = NODE(time_take_down, @$, $3); }
        | W_TEMPER value                { $$ = NODE(time_temper, @$, $2); }
        | W_READY value                 { $$ = NODE(time_ready, @$, $2); }
        | W_CLEAN value                 { $$ = NODE(time_clean, @$, $2); }
        | W_MIX value                   { $$ = NODE(time_mix, @$, $2); }
        | W_TEST value                  { $$ = NODE(time_test, @$, $2); }
        | W_CLOCK W_CHANGES clock W_TO clock { $$ = NODE(clock_changes, @$, CHAIN($3, $5)); }
        | W_CLOCK value W_AHEAD W_OF W_UTC { $$ = NODE(clock_ahead, @$, $2); }
        | W_CLOCK value W_BEHIND W_UTC  { $$ = NODE(clock_behind, @$, $2); }
        | W_ON W_HAND name value mixed done tested
                                        { $$ = NODE(on_hand, @$, CHAIN(CHAIN(CHAIN($3, $4), CHAIN($5, $6)), $7)); }
        | W_ROLLS W_FROM string         { $$ = NODE(rolls_from, @$, $3); }
        | roll
        ;

clock
        : CLOCK                         { $$ = LEAF(clock, @$); }
        ;

reels: pieces | reels COMMA pieces { $$ = CHAIN($1, $3); };

tested
        : %empty { $$ = EMPTY; } | COMMA W_TESTED { $$ = LEAF(tested, @2); }
        ;

/* ---- rolls ------------------------------------------------------------------------------------------------------ */

roll
        : W_ROLL label OPEN roll_body CLOSE { $$ = NODE(roll, @$, CHAIN($2, $4)); }
        | W_ROLL label string OPEN roll_body CLOSE { $$ = NODE(roll, @$, CHAIN(CHAIN($2, $3), $5)); }
        ;

label: name | string;

roll_body
        : roll_clauses | roll_clauses roll_clause { $$ = CHAIN($1, $2); } | roll_clauses error
        ;

roll_clauses
        : %empty { $$ = EMPTY; } | roll_clauses end
        | roll_clauses roll_clause end { $$ = CHAIN($1, $2); } | roll_clauses error end
        ;

roll_clause
        : common_clause
        | W_FORMAT format               { $$ = NODE(format, @$, $2); }
        | W_EXPOSURES number            { $$ = NODE(exposures, @$, $2); }
        | W_LENGTH value                { $$ = NODE(length, @$, $2); }
        | W_NEEDS name decided          { $$ = NODE(needs, @$, CHAIN($2, $3)); }
        | W_NEEDS name develop_as decided { $$ = NODE(needs, @$, CHAIN(CHAIN($2, $3), $4)); }
        | develop_as decided            { $$ = CHAIN($1, $2); }
        | W_FILM name                   { $$ = NODE(use_film, @$, $2); }
        | W_ORIGIN string               { $$ = NODE(origin, @$, $2); }
        | W_TOGETHER name               { $$ = NODE(together, @$, $2); }
        | W_URGENT                      { $$ = LEAF(urgent, @$); }
        | W_PRECIOUS                    { $$ = LEAF(precious, @$); }
        | W_PUSH number                 { $$ = NODE(push, @$, $2); }
        | W_PULL number                 { $$ = NODE(pull, @$, $2); }
        | W_CONDITION names             { $$ = NODE(condition, @$, $2); }
        | W_MADE number                 { $$ = NODE(made, @$, $2); }
        | W_MARK string                 { $$ = NODE(mark, @$, $2); }
        | W_PROCESS name                { $$ = NODE(use_process, @$, $2); }
        | W_SET W_ASIDE string          { $$ = NODE(set_aside, @$, $3); }
        ;

develop_as
        : W_DEVELOP W_AS name string    { $$ = NODE(develop_as, @$, CHAIN($3, $4)); }
        ;

decided
        : %empty { $$ = EMPTY; } | COMMA W_DECIDED W_BY string { $$ = NODE(decided, @2, $4); }
        ;
