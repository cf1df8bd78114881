#!/usr/bin/env node
// What completion offers in each place that wants a name or a value of its own.
// builds: plain
import path from "node:path";
import { Server, check, end, folder, position, uriOf, write } from "./client.mjs";

const where = folder();
const SHED = `wetside 1
tank small { holds 1 L; takes 4 x 135 }
graduate jug { holds 1 L }
heater boiler { gives 4 L per min }
thermometer spirit { reads low 0.2 K }
dryer cabinet { takes 8 rolls; for 2 h }
film locker { family C-41; backing none }
solution soup { role developer; hazards none; waste developer }
solution fixer { role fix; hazards none; waste silver }
process pier {
  develops black-and-white-negative
  step develop in soup at 20 ± 0.5 °C for 8:00
}
`;
write(where, { "shed.wet": SHED, "rolls.csv": "label\n", "other.wet": "wetside 1\n" });
const uri = uriOf(path.join(where, "shed.wet"));
const server = new Server({ cwd: where });
await server.start({ folders: [where], capabilities: {} });
await server.open(uri, SHED, 1);

let version = 1;
const offered = async tail => {
    const text = `${SHED}${tail}`;
    await server.change(uri, text, ++version);
    return (await server.at("completion", uri, position(text, tail))).items.map(item => item.label);
};
const exactly = async (tail, ...wanted) => {
    const got = await offered(tail);
    check(JSON.stringify([...got].sort()) === JSON.stringify([...wanted].sort()), `behind \`${tail.trimStart().replaceAll("\n", " ")}\``, got);
};
const among = async (tail, wanted, unwanted) => {
    const got = await offered(tail);
    check(wanted.every(label => got.includes(label)) && !unwanted.some(label => got.includes(label)),
        `behind \`${tail.trimStart().replaceAll("\n", " ")}\` ${wanted.join(", ")}, not ${unwanted.join(", ")}`, got);
};

// Names that are declared here, of one kind.
await exactly("process quay {\n  tank ", "small");
await exactly("process quay {\n  heater ", "boiler");
await exactly("process quay {\n  thermometer ", "spirit");
await exactly("process quay {\n  film ", "locker");
await exactly("solution stop {\n  graduate ", "jug");
await exactly("process quay from ", "pier");
await exactly("day 2026-03-14 {\n  runs ", "pier");
await exactly("day 2026-03-14 {\n  tanks ", "small");
await among("day 2026-03-14 {\n  dryer ", ["cabinet"], ["small", "pier"]);
await exactly("roll A {\n  process ", "pier");
await exactly("roll A {\n  film ", "locker");
await among("on hand ", ["soup", "fixer"], ["pier", "small"]);
await among("day 2026-03-14 {\n  on hand ", ["soup", "fixer"], ["pier", "small"]);
await among("solution stop {\n  dilute 1+9 from ", ["soup", "fixer"], ["pier"]);
await among("process quay from pier {\n  step wash after ", ["develop"], ["soup"]);

// Values of the language.
await among("solution stop {\n  hazards ", ["H317", "EUH031", "none"], ["developer"]);
await among("solution stop {\n  waste ", ["silver", "acid"], ["H317"]);
await among("solution stop {\n  contains ", ["sulfite", "thiosulfate"], ["silver-free", "acid-28"]);
await among("solution stop {\n  role ", ["stop", "first-developer"], ["C-41"]);
await among("solution stop {\n  stock ", ["pooled", "separate"], ["powder"]);
await among("solution stop {\n  kit makes 1 L, ", ["powder", "liquid"], ["pooled"]);
await among("film kelp {\n  backing ", ["none", "rem-jet"], ["soft"]);
await among("film kelp {\n  emulsion ", ["soft", "hardened", "tabular"], ["rem-jet"]);
await among("film kelp {\n  family ", ["C-41", "E-6"], ["developer"]);
await among("tank deep {\n  takes 4 x ", ["135", "120"], ["C-41"]);
await among("roll A {\n  format ", ["135", "120"], ["C-41"]);
await among("day 2026-03-14 {\n  reels 8 x ", ["135", "120"], ["small"]);
await among("roll A {\n  develop as ", ["C-41"], ["developer"]);
await among("solution stop {\n  formula makes 1 L {\n    add ", ["metol", "sodium-sulfite"], ["soup"]);
await among("solution stop {\n  formula makes 1 L {\n    add sodium-carbonate ", ["anhydrous", "monohydrate"], ["metol"]);

// Behind `per`: what the clause counts by.
await among("heater spring {\n  gives 4 L per ", ["min"], ["roll", "K"]);
await among("solution stop {\n  replenish 60 mL per ", ["roll"], ["min", "K"]);
await among("solution stop {\n  at least 100 mL per ", ["roll"], ["min", "K"]);
await among("process quay {\n  step develop in soup {\n    coefficient 2 % per ", ["K"], ["min", "roll"]);

// Files beside this one.
await among("use \"", ["other.wet"], ["shed.wet", "rolls.csv"]);
await among("day 2026-03-14 {\n  rolls from \"", ["rolls.csv"], ["other.wet"]);

await server.stop();
end();
