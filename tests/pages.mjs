// What the tests of HTML pages share: a browser, a page opened from a file and watched, and what holds for every page. Not
// a test by itself.

import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = join(dirname(fileURLToPath(import.meta.url)), "..");
const wetside = process.env.WETSIDE ?? join(root, "build", "wetside");
const require = createRequire(join(root, "tests", "node", "package.json"));

let failures = 0;

export function check(condition, name, why = "") {
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

/** A page of the program's making. */
export function emit(product, ...rest) {
	const how = { cwd: root, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] };
	return execFileSync(wetside, [product, "--to", "html", ...rest], how);
}

/** What a Python expression of a test folder prints, line by line. */
export function python(folder, script) {
	return execFileSync("python3", ["-c", script], { cwd: folder, encoding: "utf8" }).trim().split("\n");
}

/** Runs `body(browser, folder)` with a scratch folder, and ends the script. */
export async function withBrowser(body) {
	const folder = mkdtempSync(join(tmpdir(), "page-"));
	const browser = await chromium.launch({
		executablePath: browserPath,
		args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"],
	});
	try {
		await body(browser, folder);
	} finally {
		await browser.close();
		rmSync(folder, { recursive: true });
	}
	process.exit(failures > 0 ? 1 : 0);
}

/** A browser's context; on a busy machine a page may be long in opening. */
export async function contextOf(browser, options) {
	const context = await browser.newContext(options);
	context.setDefaultTimeout(120000);
	return context;
}

/** Shows another page in place of the one that was opened. */
export async function show(page, folder, html) {
	const path = join(folder, "sheet.html");
	writeFileSync(path, html);
	await page.goto(`file://${path}`);
}

/** Opens { name, html } from a file, and watches what it does. */
export async function open(browser, folder, sheet, options = {}) {
	const path = join(folder, "sheet.html");
	const context = await contextOf(browser, options);
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
	await show(page, folder, sheet.html);
	return { context, page, watch };
}

// ---- on paper ----

export const papers = { a4: [210, 297], letter: [215.9, 279.4] }; // as --paper takes them
export const px = (mm) => (mm / 25.4) * 96;

/** The text of each page of a page that is made for a paper; its own style says which. */
export async function printed(page, folder, paper, name) {
	const path = join(folder, "sheet.pdf");
	await page.pdf({ path, preferCSSPageSize: true });
	const [width, height] = execFileSync("pdfinfo", [path], { encoding: "utf8" }).match(/Page size: +([\d.]+) x ([\d.]+)/)
		.slice(1).map((points) => (points / 72) * 25.4);
	check(Math.abs(width - papers[paper][0]) < 0.5 && Math.abs(height - papers[paper][1]) < 0.5,
		`${name}: ${paper}: its paper is that`, [width, height]);
	const pages = execFileSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8" }).split("\f").slice(0, -1);
	return pages.map((text) => text.replace(/\s+/g, " "));
}

/** What the page looks like at the width that a paper leaves between margins of 10 mm. `least` are the least sizes of type,
 * in px, by selector; the last that fits counts. */
export async function lookAtPrint(page, paper, least) {
	await page.setViewportSize({ width: Math.floor(px(papers[paper][0] - 20)), height: 1400 });
	return page.evaluate(look, least);
}

// Runs in the page.
function look(least) {
	const found = { clipped: [], over: [], small: [], coloured: [], wrapped: [] };
	const shown = (text) => text.trim().slice(0, 40);
	const width = document.documentElement.clientWidth;
	const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	const pieces = [];
	const isUnseen = (element, style) => style.display === "none" || style.clipPath !== "none" ||
		["tick", "fill-in"].includes(element.className) || getComputedStyle(element.parentElement).clipPath !== "none";
	for (let node = walker.nextNode(); node; node = walker.nextNode()) {
		const parent = node.parentElement;
		const style = getComputedStyle(parent);
		if (!node.data.trim() || isUnseen(parent, style))
			continue;
		const range = document.createRange();
		range.selectNodeContents(node);
		const size = parseFloat(style.fontSize);
		const wanted = Object.entries(least).filter(([selector]) => parent.matches(selector)).pop();
		if (wanted && size < wanted[1])
			found.small.push([shown(node.data), style.fontSize]);
		for (const time of node.data.matchAll(/\d+(?::\d\d)+|[\d.]+ °C/g)) {
			const part = document.createRange();
			part.setStart(node, time.index);
			part.setEnd(node, time.index + time[0].length);
			if (new Set([...part.getClientRects()].map((box) => box.top)).size > 1)
				found.wrapped.push(shown(time[0]));
		}
		for (const box of range.getClientRects()) {
			if (box.width === 0)
				continue;
			if (box.left < -0.5 || box.right > width + 0.5)
				found.clipped.push([shown(node.data), box.left, box.right, width]);
			// What ink there is: about the height of capitals, around the middle of the line.
			const middle = (box.top + box.bottom) / 2;
			pieces.push({ node, left: box.left + 0.5, right: box.right - 0.5, top: middle - size * 0.34,
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
	}
	return found;
}

/** The same in a wider font than those the style names; the test's own style needs the content policy out of the way. */
export async function checkOtherFont(browser, folder, sheet) {
	const { context, page } = await open(browser, folder, sheet, { bypassCSP: true });
	await page.addStyleTag({ content: 'body { font-family: "DejaVu Sans" !important }' });
	await page.emulateMedia({ media: "print" });
	const found = await lookAtPrint(page, "a4", {});
	check(found.clipped.length === 0 && found.over.length === 0, `${sheet.name}: nothing is clipped in a wider font`,
		[...found.clipped, ...found.over]);
	await context.close();
}

// ---- on screen ----

export async function checkScreen(page, sheet, width) {
	await page.setViewportSize({ width, height: 800 });
	const sideways = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
	check(sideways <= 0, `${sheet.name}: no sideways scroll at ${width} px`, `${sideways} px`);
}

export async function checkAccess(page, sheet) {
	await page.setViewportSize({ width: 1000, height: 800 });
	await page.evaluate(axeSource);
	const findings = await page.evaluate(async () => {
		const result = await window.axe.run(document, {
			runOnly: ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
			rules: { "color-contrast-enhanced": { enabled: true } },
		});
		if (!result.passes.some((one) => one.id === "color-contrast-enhanced"))
			return ["the contrast was not looked at"];
		return result.violations.map((one) => [one.id, one.help, one.nodes.slice(0, 3).map((node) => node.html.slice(0, 200))]);
	});
	check(findings.length === 0, `${sheet.name}: axe finds nothing, contrast of 7:1 included`, findings);
}

/** To someone who sees no red, no green, no blue or no colour at all the page is the same, dot for dot. */
export async function checkColours(page, sheet) {
	const session = await page.context().newCDPSession(page);
	const usual = await page.screenshot();
	for (const type of ["protanopia", "deuteranopia", "tritanopia", "achromatopsia"]) {
		await session.send("Emulation.setEmulatedVisionDeficiency", { type });
		check(usual.equals(await page.screenshot()), `${sheet.name}: the same under ${type}`);
	}
	await session.send("Emulation.setEmulatedVisionDeficiency", { type: "none" });
}

export async function checkQuiet(page, watch, sheet) {
	const violations = await page.evaluate(() => window.violations);
	check(watch.requests.length === 0, `${sheet.name}: nothing is fetched`, watch.requests);
	check(violations.length === 0 && watch.messages.length === 0, `${sheet.name}: the content policy is kept, nothing is said`,
		[...violations, ...watch.messages]);
}

export async function checkHostile(browser, folder, sheet, product) {
	const { context, page, watch } = await open(browser, folder, sheet);
	await checkQuiet(page, watch, sheet);
	const title = await page.title();
	check(title.endsWith(product), `${sheet.name}: its title is its own`, title);
	await checkScreen(page, sheet, 320);
	await context.close();
}
