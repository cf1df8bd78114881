#!/usr/bin/env node
// What a figure of each kind is in other units (arithmetic done here), and what is said of names that nobody declared; in a
// folder whose name has to be written with per cent signs.
// builds: plain
import fs from "node:fs";
import path from "node:path";
import { Server, check, end, folder, position, uriOf, write } from "./client.mjs";

const where = path.join(folder(), "Lagerraum für 5 % Essig");
fs.mkdirSync(where);
const BATHS = "wetside 1\nsolution fixer { role fix; hazards none; waste silver }\n";
const MAIN = `wetside 1
use "baths.wet"
tank small { holds 1 L; takes 4 x 135 }
thermometer spirit { reads 0.1 °C within 0.2 °C }
solution soup {
  role developer
  formula makes 1 L {
    water 800 mL at 50 ± 5 °C
    add metol 20 g
    top up
  }
  dilute 1+9
  keeps 2 weeks full
  usable 65 .. 75 °F
  hazards H317
  waste developer
}
roll A { format 135; length 1.65 m; needs C-41 }
process pier {
  develops black-and-white-negative
  tank small
  film kelp
  step develop in soup at 68 ± 1 °F for 8:30
  step fix in fixer at 20 ± 2 °C for 90 s
  step stop in vinegar at 20 ± 2 °C for 1:00:30
}
`;
write(where, { "baths.wet": BATHS, "main.wet": MAIN });
const uri = uriOf(path.join(where, "main.wet"));
const server = new Server({ cwd: where });
await server.start({ folders: [where], capabilities: {} });
await server.open(uri, MAIN, 1);
await server.settle();

const says = async (needle, ...parts) => {
    const text = (await server.at("hover", uri, position(MAIN, needle)))?.contents.value ?? "";
    check(parts.every(part => text.replaceAll("\u00a0", " ").includes(part)), `over \`${needle}\`: ${parts.join(", ")}`, text);
};
const four = value => String(Number(value.toPrecision(4)));
const six = value => String(Number(value.toPrecision(6)));

await says("water 800 mL at 5", "50.0 °C", `${50 * 9 / 5 + 32}`);
await says("soup at 6", "20.0 °C", "68");
await says("68 ± 1", `${four(5 / 9)}`.slice(0, 4), "1 °F");
await says("within 0", "0.2 K", `${0.2 * 9 / 5} °F`);
await says("fixer at 20 ± 2", "2 K", `${2 * 9 / 5} °F`);
await says("usable 6", "18.3 °C", "65");
await says("usable 65 .. 7", "23.9 °C", "75");
await says("metol 2", "20 g", `${four(20 / 28.349523125)} oz`, `${four(20 / 0.06479891)} gr`);
await says("water 80", "800 mL", `${four(800 / 29.5735295625)} US fl oz`, `${four(800 / 28.4130625)} UK fl oz`);
await says("length 1", "1650 mm", `${six(1650 / 25.4)} inch`);
await says("dilute 1", "1 in 10 parts: 100 mL in 1 L");
await says("keeps ", "2 weeks", "14 days");
await says("for 8:3", "510 s", "8.5 min");
await says("for 9", "90 s", "1.5 min", "1:30");
await says("for 1:00:3", "3630 s", "60.5 min");
await says("in fix", "solution fixer", "baths.wet`, line 2");
await says("in vine", "no bath is called `vinegar`");
await says("film ke", "no film is called `kelp`");

// The same file by another spelling of its name.
const other = uri.replaceAll(/%[0-9A-F]{2}/g, code => code.toLowerCase());
check(other !== uri, "the name of the folder is written with per cent signs", uri);
await server.notify("textDocument/didClose", { textDocument: { uri } });
await server.open(other, MAIN, 1);
const found = await server.at("definition", other, position(MAIN, "in fix"));
const places = [found].flat();
check(places.length === 1 && decodeURIComponent(places[0].uri ?? places[0].targetUri).endsWith("5 % Essig/baths.wet"),
    "hexadecimal in small letters is the same file", places);

await server.stop();
end();
