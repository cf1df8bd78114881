#!/usr/bin/env node
// builds: plain
// timeout: 900
//
// The sheet in a browser: every example process on A4 and on Letter, on paper and on screen.
//
// On paper: as many pages as the sheet says itself, two at the most, each side whole on its page (so no step is broken),
// nothing clipped, nothing over anything else, type of 12 pt and times of 24 pt at the least, black on white alone, also
// where the screen is dark or the font is another. On screen: no request, no violation of the content policy, nothing
// runs, usable at 320 px and at 200 %, no finding of axe.

import { createRequire } from "node:module";
import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, "..", "..");
const wetside = process.env.WETSIDE ?? join(root, "build", "wetside");
const require = createRequire(join(root, "tests", "node", "package.json"));

let failures = 0;

function check(condition, name, why = "") {
	console.log(`${condition ? "ok" : "not ok"} - ${name}`);
	if (condition)
		return;
	failures++;
	const text = typeof why === "string" ? why : JSON.stringify(why, null, 1);
	console.log(text.split("\n").slice(0, 40).map((line) => `    ${line}`).join("\n"));
}

function need(command) {
	const found = spawnSync("sh", ["-c", `command -v ${command}`], { encoding: "utf8" });
	if (found.status !== 0) {
		console.log(`${command} is not installed`);
		process.exit(77);
	}
	return found.stdout.trim();
}

function load(name) {
	try {
		return require(name);
	} catch {
		console.log(`${name} is not installed in tests/node`);
		process.exit(77);
	}
}

const browserPath = need("chromium");
need("pdftotext");
const { chromium } = load("playwright-core");
load("axe-core");
const axeSource = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

// ---- the sheets ----

function emit(...rest) {
	return execFileSync(wetside, ["sheet", "--to", "html", ...rest], { cwd: root, encoding: "utf8" });
}

function exampleSheets() {
	const sheets = [];
	for (const file of readdirSync(join(root, "examples")).filter((name) => name.endsWith(".wet")).sort()) {
		const text = readFileSync(join(root, "examples", file), "utf8");
		for (const [, name] of text.matchAll(/^process ([\w-]+)/gm))
			sheets.push({ name: `${file.replace(".wet", "")}: ${name}`,
				html: emit("--process", name, join("examples", file)) });
	}
	return sheets;
}

// The hostile recipes that sheets.py writes.
function hostileSheets(folder) {
	const script = `import sheets\nfor name in sheets.PAYLOADS: print(sheets.hostile(${JSON.stringify(folder)}, name))`;
	const paths = execFileSync("python3", ["-c", script], { cwd: here, encoding: "utf8" }).trim().split("\n");
	return paths.map((path) => ({ name: `hostile ${path.split("/").pop()}`, html: emit(path) }));
}

// ---- on paper ----

const papers = { A4: [210, 297], Letter: [215.9, 279.4] };
const px = (mm) => (mm / 25.4) * 96;

function pagesOf(pdf) {
	return execFileSync("pdftotext", ["-layout", pdf, "-"], { encoding: "utf8" }).split("\f").slice(0, -1);
}

async function checkPages(page, sheet, folder, paper) {
	const path = join(folder, "sheet.pdf");
	await page.pdf({ path, format: paper });
	const pages = pagesOf(path).map((text) => text.replace(/\s+/g, " "));
	const sides = pages.map((text) => text.match(/Side (\d+) of (\d+)/g) ?? []);
	check(pages.length <= 2, `${sheet.name}: ${paper}: two pages at the most`, `${pages.length}`);
	const wanted = pages.map((_, index) => [`Side ${index + 1} of ${pages.length}`]);
	check(JSON.stringify(sides) === JSON.stringify(wanted), `${sheet.name}: ${paper}: each side on its own page`, sides);
}

// What the page looks like at the width that a paper leaves between the margins of 10 mm.
async function checkPrint(page, sheet, paper) {
	await page.setViewportSize({ width: Math.floor(px(papers[paper][0] - 20)), height: 1400 });
	const found = await page.evaluate(lookAtPrint);
	check(found.clipped.length === 0, `${sheet.name}: ${paper}: nothing is clipped`, found.clipped);
	check(found.over.length === 0, `${sheet.name}: ${paper}: no text over another`, found.over);
	check(found.small.length === 0, `${sheet.name}: ${paper}: no type below 12 pt, no time below 24 pt`, found.small);
	check(found.coloured.length === 0, `${sheet.name}: ${paper}: black on white alone`, found.coloured);
	check(found.steps > 0 && found.ticks === found.steps, `${sheet.name}: ${paper}: a box of 8 mm for every step`, found);
}

// Runs in the page.
function lookAtPrint() {
	const found = { clipped: [], over: [], small: [], coloured: [], steps: 0, ticks: 0 };
	const shown = (text) => text.trim().slice(0, 40);
	const width = document.documentElement.clientWidth;
	const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	const pieces = [];
	for (let node = walker.nextNode(); node; node = walker.nextNode()) {
		const parent = node.parentElement;
		const style = getComputedStyle(parent);
		if (!node.data.trim() || style.display === "none" || parent.className === "tick")
			continue;
		const range = document.createRange();
		range.selectNodeContents(node);
		const size = parseFloat(style.fontSize);
		if (size < 15.9 || (parent.matches(".step .time .figure") && size < 31.9))
			found.small.push([shown(node.data), style.fontSize]);
		for (const box of range.getClientRects()) {
			if (box.width === 0)
				continue;
			if (box.left < -0.5 || box.right > width + 0.5)
				found.clipped.push([shown(node.data), box.left, box.right, width]);
			// What ink there is: about the height of capitals, around the middle of the line.
			const middle = (box.top + box.bottom) / 2;
			pieces.push({ node, parent, left: box.left + 0.5, right: box.right - 0.5, top: middle - size * 0.34,
				bottom: middle + size * 0.34 });
		}
	}
	pieces.sort((a, b) => a.top - b.top);
	pieces.forEach((one, index) => {
		for (let other = index + 1; other < pieces.length && pieces[other].top < one.bottom; other++) {
			const two = pieces[other];
			if (one.left < two.right && two.left < one.right && one.node !== two.node)
				found.over.push([shown(one.node.data), shown(two.node.data)]);
		}
	});
	const plain = new Set(["rgb(0, 0, 0)", "rgb(255, 255, 255)", "rgba(0, 0, 0, 0)", "none"]);
	for (const element of document.querySelectorAll("body, body *")) {
		const style = getComputedStyle(element);
		if (style.display === "none")
			continue;
		for (const property of ["color", "backgroundColor", "borderTopColor", "borderLeftColor", "fill", "stroke"])
			if (!plain.has(style[property]))
				found.coloured.push([element.tagName, property, style[property]]);
		if (style.backgroundImage !== "none" || style.boxShadow !== "none" || style.opacity !== "1")
			found.coloured.push([element.tagName, "background, shadow or opacity"]);
		if (element.matches(".step"))
			found.steps++;
		const box = element.getBoundingClientRect();
		if (element.matches(".step .tick") && box.width >= 30 && box.height >= 30)
			found.ticks++;
	}
	return found;
}

// A strip's length is its step's: all strips of a sheet have one scale, in pixels for each second.
async function checkScale(page, sheet) {
	const scales = await page.evaluate(() => [...document.querySelectorAll("svg.strip")].map((strip) => {
		const drain = strip.querySelector("text.drain");
		const zero = strip.querySelector("text.zero");
		if (!drain || !zero)
			return null;
		const seconds = drain.textContent.split(":").reduce((sum, part) => sum * 60 + Number(part), 0);
		const width = strip.getBoundingClientRect().width;
		const at = (text) => (parseFloat(text.getAttribute("x")) / 100) * width;
		return (at(drain) - at(zero)) / seconds;
	}).filter((scale) => scale !== null));
	const spread = Math.max(...scales) - Math.min(...scales);
	check(scales.length > 0 && spread < 0.02 * Math.max(...scales), `${sheet.name}: strips have one scale`, scales);
}

// ---- on screen ----

async function checkScreen(page, sheet, width) {
	await page.setViewportSize({ width, height: 800 });
	const sideways = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
	check(sideways <= 0, `${sheet.name}: no sideways scroll at ${width} px`, `${sideways} px`);
}

async function checkAccess(page, sheet) {
	await page.setViewportSize({ width: 1000, height: 800 });
	await page.evaluate(axeSource);
	const findings = await page.evaluate(async () => {
		const result = await window.axe.run(document, {
			runOnly: ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
		});
		return result.violations.map((one) => [one.id, one.help, one.nodes.slice(0, 3).map((node) => node.html.slice(0, 200))]);
	});
	check(findings.length === 0, `${sheet.name}: axe finds nothing, contrast of 7:1 included`, findings);
}

// ---- all of it ----

async function open(browser, folder, sheet, options = {}) {
	const path = join(folder, "sheet.html");
	writeFileSync(path, sheet.html);
	const context = await browser.newContext(options);
	const page = await context.newPage();
	const watch = { requests: [], messages: [] };
	page.on("request", (request) => request.url() !== `file://${path}` && watch.requests.push(request.url()));
	page.on("console", (message) => watch.messages.push(message.text()));
	page.on("pageerror", (error) => watch.messages.push(String(error)));
	page.on("dialog", (dialog) => watch.messages.push(dialog.message()) && dialog.dismiss());
	await page.addInitScript(() => {
		window.violations = [];
		document.addEventListener("securitypolicyviolation", (event) =>
			window.violations.push(`${event.violatedDirective} ${event.blockedURI} ${event.sample}`));
	});
	await page.goto(`file://${path}`);
	return { context, page, watch };
}

async function checkQuiet(page, watch, sheet) {
	const violations = await page.evaluate(() => window.violations);
	check(watch.requests.length === 0, `${sheet.name}: nothing is fetched`, watch.requests);
	check(violations.length === 0 && watch.messages.length === 0, `${sheet.name}: the content policy is kept, nothing is said`,
		[...violations, ...watch.messages]);
}

async function checkExample(browser, folder, sheet) {
	const { context, page, watch } = await open(browser, folder, sheet);
	for (const paper of Object.keys(papers))
		await checkPages(page, sheet, folder, paper);
	for (const width of [320, 640, 1280])
		await checkScreen(page, sheet, width);
	await checkScale(page, sheet);
	await checkQuiet(page, watch, sheet);
	await checkAccess(page, sheet);
	await page.emulateMedia({ media: "print", colorScheme: "dark" });
	for (const paper of Object.keys(papers))
		await checkPrint(page, sheet, paper);
	await context.close();
}

// The same where the first fonts of the list are missing; the test's own style needs the content policy out of the way.
async function checkOtherFont(browser, folder, sheet) {
	const { context, page } = await open(browser, folder, sheet, { bypassCSP: true });
	await page.addStyleTag({ content: 'body { font-family: "DejaVu Sans" !important }' });
	await page.emulateMedia({ media: "print" });
	await page.setViewportSize({ width: Math.floor(px(papers.A4[0] - 20)), height: 1400 });
	const found = await page.evaluate(lookAtPrint);
	check(found.clipped.length === 0 && found.over.length === 0, `${sheet.name}: nothing is clipped in a wider font`,
		[...found.clipped, ...found.over]);
	await context.close();
}

async function checkHostile(browser, folder, sheet) {
	const { context, page, watch } = await open(browser, folder, sheet);
	await checkQuiet(page, watch, sheet);
	const title = await page.title();
	check(title.endsWith("sink sheet"), `${sheet.name}: its title is its own`, title);
	await checkScreen(page, sheet, 320);
	await context.close();
}

const folder = mkdtempSync(join(tmpdir(), "sheet-"));
const browser = await chromium.launch({
	executablePath: browserPath,
	args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"],
});
try {
	for (const sheet of exampleSheets()) {
		await checkExample(browser, folder, sheet);
		await checkOtherFont(browser, folder, sheet);
	}
	for (const sheet of hostileSheets(folder))
		await checkHostile(browser, folder, sheet);
} finally {
	await browser.close();
	rmSync(folder, { recursive: true });
}
process.exit(failures > 0 ? 1 : 0);
