// The lock file pins versions and checksums and names no registry, so that any
// registry an npm client is set up for will do.
import { readFileSync } from "node:fs";

const text = readFileSync(new URL("package-lock.json", import.meta.url), "utf8");
const lock = JSON.parse(text);
const bad = Object.entries(lock.packages).filter(([, p]) => p.resolved !== undefined).map(([name]) => name);
if (bad.length > 0 || /https?:\/\/[^"]*\/-\//.test(text)) {
  console.error(`package-lock.json names where packages were fetched from: ${bad.join(", ")}. Run npm install in site/, whose .npmrc leaves that out.`);
  process.exit(1);
}
const unpinned = Object.entries({ ...lock.packages[""].dependencies, ...lock.packages[""].devDependencies }).filter(([, v]) => !/^\d+\.\d+\.\d+$/.test(v));
if (unpinned.length > 0) {
  console.error(`Not pinned: ${unpinned.map((d) => d.join(" ")).join(", ")}`);
  process.exit(1);
}
