"""The table of edits: what is changed in base.wet, and what `wetside diff --process film` has to say of it. The words
were judged by reading; they are not written anew by any program. Not a test by itself."""

# Name, texts and what takes their place, exit status, every line of the output.
EDITS = [
    ("a longer time", [("for 8:00 {", "for 9:15 {")], 1, [
        "film",
        "  develop: 8:00 → 9:15; agitations 8 → 9; total +1:15; window unchanged",
        "  bath time at least 23:30 → at least 24:45, +1:15",
    ]),
    ("a shorter time", [("for 8:00 {", "for 6:00 {")], 1, [
        "film",
        "  develop: 8:00 → 6:00; agitations 8 → 6; total −2:00; window unchanged",
        "  bath time at least 23:30 → at least 21:30, −2:00",
    ]),
    ("an exact time becomes a least time", [("at 20 ± 2 °C for 0:30 .. 1:00", "at 20 ± 2 °C for at least 0:30")], 1, [
        "film",
        "  stop: 0:30 to 1:00 → at least 0:30; window unchanged",
    ]),
    ("the upper end of a time", [("0:30 .. 1:00", "0:30 .. 1:30")], 1, [
        "film",
        "  stop: 0:30 to 1:00 → 0:30 to 1:30; window unchanged",
    ]),
    ("a wider window", [("developer at 20 ± 0.5", "developer at 20 ± 0.75")], 1, [
        "film",
        "  develop: at 20.0 °C, not below 19.5, not above 20.5 → 20.0 °C, not below 19.25, not above 20.75",
    ]),
    ("a warmer bath", [("developer at 20 ± 0.5", "developer at 20.3 ± 0.5")], 1, [
        "film",
        "  develop: at 20.0 °C, not below 19.5, not above 20.5 → 20.3 °C, not below 19.8, not above 20.8",
    ]),
    ("a window written as a range", [("stop-bath at 20 ± 2 °C", "stop-bath at 18 .. 22 °C")], 1, [
        "film",
        "  stop: at 20.0 °C, not below 18.0, not above 22.0 (tolerance) → 20.0 °C, not below 18.0, not above 22.0 "
        "(range)",
    ]),
    ("time and window", [("developer at 20 ± 0.5 °C for 8:00", "developer at 21 ± 0.5 °C for 7:15")], 1, [
        "film",
        "  develop: 8:00 → 7:15; at 20.0 °C, not below 19.5, not above 20.5 → 21.0 °C, not below 20.5, not above "
        "21.5; agitations 8 → 7; total −0:45",
        "  bath time at least 23:30 → at least 22:45, −0:45",
    ]),
    ("a pour apart from the mean", [
        ("    measure\n", "    measure\n    pour at 20.2 ± 0.2 °C\n    mean 20 ± 0.5 °C\n"),
    ], 1, [
        "film",
        "  develop: pour at not said → 20.2 °C, not below 20.0, not above 20.4; mean not said → 20.0 °C, not below "
        "19.5, not above 20.5",
    ]),
    ("agitation more often", [("then 5 s every 60 s", "then 5 s every 30 s")], 1, [
        "film",
        "  develop: agitation continuous for 0:30, then 0:05 every 1:00 → continuous for 0:30, then 0:05 every 0:30; "
        "agitations 8 → 15",
    ]),
    ("a longer first agitation", [("agitate first 30 s", "agitate first 60 s")], 1, [
        "film",
        "  develop: agitation continuous for 0:30, then 0:05 every 1:00 → continuous for 1:00, then 0:05 every 1:00; "
        "agitations 8 → 7",
    ]),
    ("no agitation", [("{ agitate first 20 s }", "{ agitate none }")], 1, [
        "film",
        "  stop: agitation continuous for 0:20 → none; agitations 1 → 0",
    ]),
    ("agitation that was not said", [(" { agitate first 20 s }", "")], 1, [
        "film",
        "  stop: agitation continuous for 0:20 → not said; agitations 1 → 0",
    ]),
    ("more taps", [("tap 2 after", "tap 3 after")], 1, [
        "film",
        "  develop: taps 2 → 3",
    ]),
    ("no taps", [("    tap 2 after agitation\n", "")], 1, [
        "film",
        "  develop: taps 2 → not said",
    ]),
    ("no measuring", [("    measure\n", "")], 1, [
        "film",
        "  develop: measured yes → no",
    ]),
    ("a row of the time table", [("24 °C 5:30", "24 °C 5:15")], 1, [
        "film",
        "  develop: time table 18.0 °C 9:30, 20.0 °C 8:00, 24.0 °C 5:30 → 18.0 °C 9:30, 20.0 °C 8:00, 24.0 °C 5:15",
    ]),
    ("the time table is the maker's", [("time { 18", "time by maker { 18")], 1, [
        "film",
        "  develop: time table is the maker's no → yes",
    ]),
    ("a coefficient instead of a table", [
        ("time { 18 °C 9:30, 20 °C 8:00, 24 °C 5:30 }", "coefficient 7 % per K"),
    ], 1, [
        "film",
        "  develop: time table 18.0 °C 9:30, 20.0 °C 8:00, 24.0 °C 5:30 → not said; coefficient per kelvin not said "
        "→ 7 %",
    ]),
    ("light later", [("lights on after 3:00", "lights on after 4:00")], 1, [
        "film",
        "  fix: lights on after 3:00 → after 4:00",
    ]),
    ("light not said", [("    lights on after 3:00\n", "")], 1, [
        "film",
        "  fix: lights on after 3:00 → not said",
    ]),
    ("more flow", [("flow 3 L per min", "flow 4.5 L per min")], 1, [
        "film",
        "  wash: flow 3 L per min → 4.5 L per min",
    ]),
    ("changes instead of flow", [
        ("in running water at 20 ± 2 °C for at least 10:00 { flow 3 L per min }",
         "as wash in water at 20 ± 2 °C for at least 10:00 { changes 6 }"),
    ], 1, [
        "film",
        "  wash: in running water → water; flow 3 L per min → not said; changes of water not said → 6",
    ]),
    ("time starts when full", [("  wet time under 2 h\n", "  wet time under 2 h\n  time starts when full\n")], 1, [
        "film",
        "  develop: time starts at first pour → when full; total +0:10",
        "  stop: time starts at first pour → when full; total +0:10",
        "  fix: time starts at first pour → when full; total +0:10",
        "  wash: time starts at first pour → when full; total +0:10",
        "  dry: time starts at first pour → when full",
        "  bath time at least 23:30 → at least 24:10, +0:40",
    ]),
    ("time without draining", [("    measure\n", "    measure\n    time excludes draining\n")], 1, [
        "film",
        "  develop: time includes draining yes → no; total +0:08",
        "  bath time at least 23:30 → at least 23:38, +0:08",
    ]),
    ("a step added", [("  step fix in", "  step rinse as rinse in water at 20 ± 2 °C for 0:30\n  step fix in")], 1, [
        "film",
        "  rinse: new, after stop; role rinse; in water; 0:30; at 20.0 °C, not below 18.0, not above 22.0; total "
        "+0:30",
        "  bath time at least 23:30 → at least 24:00, +0:30",
    ]),
    ("a step removed", [("  step stop in stop-bath at 20 ± 2 °C for 0:30 .. 1:00 { agitate first 20 s }\n", "")], 1, [
        "film",
        "  stop: removed, was after develop; role stop; in stop-bath; 0:30 to 1:00; at 20.0 °C, not below 18.0, not "
        "above 22.0; total −0:30",
        "  bath stop-bath: removed; role stop; dilution 1+19",
        "  bath time at least 23:30 → at least 23:00, −0:30",
    ]),
    ("a step moved", [
        ("  step wash in running water at 20 ± 2 °C for at least 10:00 { flow 3 L per min }\n", ""),
        ("  step stop in",
         "  step wash in running water at 20 ± 2 °C for at least 10:00 { flow 3 L per min }\n  step stop in"),
    ], 1, [
        "film",
        "  wash: moved, now after develop",
    ]),
    ("a step renamed", [("step stop in", "step halt in")], 1, [
        "film",
        "  halt: was called stop",
    ]),
    ("a step renamed and changed", [
        ("step stop in stop-bath at 20 ± 2 °C for 0:30 .. 1:00",
         "step halt in stop-bath at 20 ± 2 °C for 0:45 .. 1:00"),
    ], 1, [
        "film",
        "  halt: was called stop; 0:30 to 1:00 → 0:45 to 1:00; total +0:15; window unchanged",
        "  bath time at least 23:30 → at least 23:45, +0:15",
    ]),
    ("another role", [("step wash in", "step wash as rinse in")], 1, [
        "film",
        "  wash: role wash → rinse",
    ]),
    ("another bath", [("step stop in stop-bath at", "step stop as stop in water at")], 1, [
        "film",
        "  stop: in stop-bath → water",
        "  bath stop-bath: removed; role stop; dilution 1+19",
    ]),
    ("a bath renamed", [("in developer at", "in soup at"), ("solution developer ", "solution soup ")], 1, [
        "film",
        "  develop: in developer → soup",
        "  bath soup: was called developer",
    ]),
    ("a stronger dilution", [("dilute 1+1 from stock", "dilute 2+1 from stock")], 1, [
        "film",
        "  bath developer: dilution 1+1 → 2+1",
    ]),
    ("another dilution", [("dilute 1+19", "dilute 1+29")], 1, [
        "film",
        "  bath stop-bath: dilution 1+19 → 1+29",
    ]),
    ("a formula's amount", [("metol 2 g", "metol 2.5 g")], 1, [
        "film",
        "  bath stock, part metol: amount 2 g → 2.5 g",
    ]),
    ("another hydrate", [("borax decahydrate", "borax pentahydrate")], 1, [
        "film",
        "  bath stock, part borax: hydrate decahydrate → pentahydrate",
    ]),
    ("a chemical instead of another", [("add borax decahydrate 2 g", "add potassium-bromide 0.5 g")], 1, [
        "film",
        "  bath stock: contains alkali, sulfite, developing-agent → sulfite, developing-agent",
        "  bath stock, part potassium-bromide: new, after hydroquinone; amount 0.5 g; for 1:00",
        "  bath stock, part borax: removed, was after hydroquinone; amount 2 g; for 1:00",
    ]),
    ("the order of a formula", [
        ("    add hydroquinone 5 g stirring 2:00\n    add borax decahydrate 2 g stirring 1:00\n",
         "    add borax decahydrate 2 g stirring 1:00\n    add hydroquinone 5 g stirring 2:00\n"),
    ], 1, [
        "film",
        "  bath stock, part hydroquinone: moved, now after borax",
    ]),
    ("stirring longer", [("hydroquinone 5 g stirring 2:00", "hydroquinone 5 g stirring 2:30")], 1, [
        "film",
        "  bath stock, part hydroquinone: for 2:00 → 2:30",
    ]),
    ("mixing water", [("water 750 mL at 50", "water 700 mL at 45")], 1, [
        "film",
        "  bath stock, part water: amount 750 mL → 700 mL; at 50.0 °C, not below 45.0, not above 55.0 → 45.0 °C, not "
        "below 40.0, not above 50.0",
    ]),
    ("a larger kit of powder", [("kit makes 1 L, liquid", "kit makes 2 L, powder")], 1, [
        "film",
        "  bath fixer: kit 1 L, liquid → 2 L, powder",
    ]),
    ("capacity", [("capacity 20 rolls", "capacity 16 rolls")], 1, [
        "film",
        "  bath fixer: capacity 20 rolls in 1 L → 16 rolls in 1 L",
    ]),
    ("lengthening", [("lengthen 2 % per roll per 1 L, added up", "lengthen 3 % per roll per 1 L, compounded")], 1, [
        "film",
        "  bath fixer: lengthens 2 % per roll in 1 L → 3 % per roll in 1 L, compounding",
    ]),
    ("least stock", [("at least 100 mL stock", "at least 120 mL stock")], 1, [
        "film",
        "  bath developer: stock a roll needs 100 mL → 120 mL",
    ]),
    ("reuse", [("  kit makes 1 L, liquid\n  reuse\n", "  kit makes 1 L, liquid\n  replenish 60 mL per roll\n")], 1, [
        "film",
        "  bath fixer: use reuse → replenish; replenished per roll not said → 60 mL",
    ]),
    ("keeping", [
        ("keeps 6 months full, 1 month part full, 1 week in tank", "keeps 3 months full, 1 month part full"),
    ], 1, [
        "film",
        "  bath fixer: keeps, full, 6 months → 3 months; keeps, in the tank, 1 week → not said",
    ]),
    ("hazards", [("hazards H317\n", "hazards H317, H319\n")], 1, [
        "film",
        "  bath developer: hazards H317 → H317, H319",
    ]),
    ("hazards none", [("hazards EUH031\n  sheet dated 2025-11-03\n", "hazards none\n")], 1, [
        "film",
        "  bath fixer: hazards EUH031 → not said; stated to have no hazards no → yes; data sheet of 2025-11-03 → not "
        "said",
    ]),
    ("date of a data sheet", [("sheet dated 2025-11-03", "sheet dated 2026-01-12")], 1, [
        "film: the same run",
        "  bath fixer: data sheet of 2025-11-03 → 2026-01-12",
    ]),
    ("waste", [("waste acid", "waste silver")], 1, [
        "film",
        "  bath stop-bath: waste acid → silver",
    ]),
    ("contents", [("contains thiosulfate, silver", "contains thiosulfate, sulfite, silver")], 1, [
        "film",
        "  bath fixer: contains thiosulfate, silver → sulfite, thiosulfate, silver",
    ]),
    ("pH", [("pH 5.2", "pH 5.4")], 1, [
        "film",
        "  bath fixer: pH 5.2 → 5.4",
    ]),
    ("clearing times", [("now 0:50", "now 1:05")], 1, [
        "film",
        "  bath fixer: clears, now, in 0:50 → 1:05",
    ]),
    ("the vessel it is mixed in", [("  graduate jug\n  usable", "  usable")], 1, [
        "film",
        "  bath stock: mixed in jug → not said",
    ]),
    ("usable at", [("usable 15 .. 27", "usable 12 .. 27")], 1, [
        "film",
        "  bath stop-bath: usable at 21.0 °C, not below 15.0, not above 27.0 → 19.5 °C, not below 12.0, not above "
        "27.0",
    ]),
    ("the tank's volume", [
        ("tank upright \"Upright tank\" {\n  holds 1 L", "tank upright \"Upright tank\" {\n  holds 900 mL"),
    ], 1, [
        "film",
        "  tank upright: holds 1 L → 900 mL",
    ]),
    ("the tank's film", [("  takes 4 x 135\n", "  takes 4 x 135 or 2 x 120\n")], 1, [
        "film",
        "  tank upright: takes 4 × 135 → 4 × 135 or 2 × 120",
    ]),
    ("a slower fill", [("  fill 10 s\n", "  fill 14 s\n")], 1, [
        "film",
        "  tank upright: fills in 0:10 → 0:14",
    ]),
    ("another way to empty", [("emptied through lid", "emptied from bottom")], 1, [
        "film",
        "  tank upright: emptied through lid → from bottom",
    ]),
    ("heat-loss test", [("38 °C to 37 °C", "38 °C to 36.8 °C")], 1, [
        "film",
        "  tank upright: heat-loss test 38.0 °C to 37.0 °C within 10:00 in 20.0 °C → 38.0 °C to 36.8 °C within 10:00 "
        "in 20.0 °C",
    ]),
    ("a water bath", [("  absorbs 100 mL\n", "  absorbs 90 mL\n  bath 20 °C\n")], 1, [
        "film",
        "  tank upright: water bath not said → 20.0 °C; absorbs heat of 100 mL → 90 mL",
    ]),
    ("another tank", [("  tank upright\n", "  tank spare\n")], 1, [
        "film",
        "  tank upright → spare",
        "  tank spare: in place of upright; heat-loss test 38.0 °C to 37.0 °C within 10:00 in 20.0 °C → not said; "
        "absorbs heat of 100 mL → not said; carries over a reel 10 mL → not said",
        "  wording only:",
        "    tank spare: title “Upright tank” → not said",
    ]),
    ("thermometer", [("correction -0.2", "correction -0.1")], 1, [
        "film",
        "  thermometer no-2: correction −0.2 K → −0.1 K",
    ]),
    ("thermometer checked", [("checked 2026-02-01", "checked 2026-03-01")], 1, [
        "film: the same run",
        "  thermometer no-2: checked 2026-02-01 → 2026-03-01",
    ]),
    ("no thermometer", [("  thermometer no-2\n", "")], 1, [
        "film",
        "  thermometer no-2 → not said",
        "  thermometer no-2: removed",
    ]),
    ("heater", [("gives 5 L", "gives 6 L")], 1, [
        "film",
        "  heater boiler: gives 5 L per min → 6 L per min",
    ]),
    ("dryer", [("up to 35", "up to 32")], 1, [
        "film",
        "  dryer cabinet: up to 35.0 °C → 32.0 °C",
    ]),
    ("graduate", [("graduate jug \"Jug\" { holds 2 L }", "graduate jug \"Jug\" { holds 1.5 L }")], 1, [
        "film",
        "  graduate jug: holds 2 L → 1.5 L",
    ]),
    ("film", [("emulsion hardened; made 1988", "emulsion tabular; made 1998")], 1, [
        "film",
        "  film quay: emulsion hardened → tabular; made 1988 → 1998",
    ]),
    ("push", [("  load 4 rolls\n", "  load 4 rolls\n  push 0.5\n")], 1, [
        "film",
        "  push not said → +0.5",
    ]),
    ("pull", [("  load 4 rolls\n", "  load 4 rolls\n  pull 1\n")], 1, [
        "film",
        "  push not said → −1",
    ]),
    ("load", [("load 4 rolls", "load 3 rolls")], 1, [
        "film",
        "  load 4 rolls → 3 rolls",
    ]),
    ("room", [("room 20", "room 18")], 1, [
        "film",
        "  room 20.0 °C → 18.0 °C",
    ]),
    ("wet time", [("wet time under 2 h", "wet time under 90 min")], 1, [
        "film",
        "  wet time at most 2:00:00 → 1:30:00",
    ]),
    ("another family", [
        ("  develops black-and-white-negative\n", "  develops black-and-white-reversal\n  rescue\n"),
        ("    lights on after 3:00\n", ""),
    ], 1, [
        "film",
        "  develops black-and-white-negative → black-and-white-reversal; rescue no → yes",
        "  fix: lights on after 3:00 → not said",
    ]),
    ("an allowance", [
        ("step wash in running water at 20 ± 2 °C for at least 10:00 { flow 3 L per min }",
         "step wash in running water at 20 ± 2 °C for at least 10:00 { flow 3 L per min; allow heater-too-small "
         "\"cold tap is at 19\" }"),
    ], 1, [
        "film: the same run",
        "  wash, allow heater-too-small: new; “cold tap is at 19”",
    ]),
    ("the reason of an allowance", [("used up within the week", "used up the same day")], 1, [
        "film: the same run",
        "  the whole file, allow kit-split: reason “the rest of the kit is used up within the week” → “the rest of "
        "the kit is used up the same day”",
    ]),
    ("an allowance taken out", [("allow kit-split \"the rest of the kit is used up within the week\"\n", "")], 1, [
        "film: the same run",
        "  the whole file, allow kit-split: removed; “the rest of the kit is used up within the week”",
    ]),
    ("a bath on hand", [("done 2 rolls", "done 5 rolls")], 1, [
        "film: the same run",
        "  bath fixer, on hand fixer: has done 2 rolls → 5 rolls",
    ]),
    ("title of the process", [("\"Black-and-white\"", "\"Monochrome\"")], 0, [
        "film: the same run",
        "  wording only:",
        "    title “Black-and-white” → “Monochrome”",
    ]),
    ("note of a step", [("Watch the clock.", "Watch both clocks.")], 0, [
        "film: the same run",
        "  wording only:",
        "    develop: note “Watch the clock.” → “Watch both clocks.”",
    ]),
    ("title of a bath", [("\"Fixer\"", "\"Fixing bath\"")], 0, [
        "film: the same run",
        "  wording only:",
        "    bath fixer: title “Fixer” → “Fixing bath”",
    ]),
    ("note and time", [("Watch the clock.", "Watch both clocks."), ("for 8:00 {", "for 8:30 {")], 1, [
        "film",
        "  develop: 8:00 → 8:30; total +0:30; window unchanged",
        "  bath time at least 23:30 → at least 24:00, +0:30",
        "  wording only:",
        "    develop: note “Watch the clock.” → “Watch both clocks.”",
    ]),
    ("below what is printed", [("holds 1 L\n  takes", "holds 999.99 mL\n  takes")], 1, [
        "film",
        "  tank upright: holds 1 L (1000 mL) → 1 L (999.99 mL)",
    ]),
    ("the process renamed", [("process film \"", "process quayside \""), ("from film {", "from quayside {")], 1, [
        "film → quayside: renamed",
    ]),
]
