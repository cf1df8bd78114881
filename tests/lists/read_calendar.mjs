// Reads iCalendar files with ical.js and prints what it understood, one JSON value for each, in a list. Called by
// calendars.py; status 77 where ical.js is not installed.

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const require = createRequire(new URL("../node/package.json", import.meta.url));
let ICAL;
try {
	ICAL = (await import(require.resolve("ical.js"))).default;
} catch {
	console.error("ical.js is not installed in tests/node");
	process.exit(77);
}

function read(path) {
	const calendar = new ICAL.Component(ICAL.parse(readFileSync(path, "utf8")));
	const zones = new Map();
	for (const zone of calendar.getAllSubcomponents("vtimezone"))
		zones.set(zone.getFirstPropertyValue("tzid"), new ICAL.Timezone(zone));
	const time = (property) => {
		const value = property.getFirstValue();
		const name = property.getParameter("tzid");
		if (name !== undefined)
			value.zone = zones.get(name);
		const floats = name === undefined && value.zone !== ICAL.Timezone.utcTimezone;
		return { text: value.toString(), utc: floats ? null : value.toUnixTime() };
	};
	return calendar.getAllSubcomponents("vevent").map((event) => ({
		uid: event.getFirstPropertyValue("uid"),
		start: time(event.getFirstProperty("dtstart")),
		end: time(event.getFirstProperty("dtend")),
		summary: event.getFirstPropertyValue("summary"),
		description: event.getFirstPropertyValue("description") ?? "",
	}));
}

console.log(JSON.stringify(process.argv.slice(2).map(read)));
