// Pictures of the demo site's report for the README: LINKMARGIN=PROGRAM node pictures.mjs FOLDER
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

import { chromium } from "playwright-core";

const out = process.argv[2];
const site = join(dirname(fileURLToPath(import.meta.url)), "../../data/sites/kiln-lane.yaml");
const folder = mkdtempSync(join(tmpdir(), "linkmargin-pictures-"));
const file = join(folder, "report.html");
execFileSync(process.env.LINKMARGIN, ["report", site, "--language", "en", "--output", file], {
  env: { ...process.env, SOURCE_DATE_EPOCH: "1790000000" },
});
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox"] });
const opened = async (options) => {
  const page = await (await browser.newContext(options)).newPage();
  await page.goto(pathToFileURL(file).href);
  return page;
};
const wide = await opened({ viewport: { width: 1280, height: 800 }, colorScheme: "light" });
await wide.screenshot({ path: join(out, "report_top.png") });
await wide.locator("#device-2").screenshot({ path: join(out, "report_card.png") });
await wide.locator(".map:not([hidden]) .spot[href='#device-2']").hover();
await wide.addStyleTag({ content: ".pointed { display: none }" });  // it would lie over the plan
await wide.locator(".map:not([hidden])").screenshot({ path: join(out, "report_plan.png") });
const phone = await opened({ viewport: { width: 390, height: 844 }, colorScheme: "dark", deviceScaleFactor: 2 });
await phone.evaluate(() => document.getElementById("device-1").scrollIntoView());
await phone.screenshot({ path: join(out, "report_phone.png") });
await browser.close();
rmSync(folder, { recursive: true });
