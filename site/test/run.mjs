// Runs the page's tests, two files at once: node run.mjs FILE… A test that fails
// while two browsers share the machine is run once more by itself, and that is said;
// one that fails twice fails.
import { spawnSync } from "node:child_process";
import { resolve } from "node:path";
import { run } from "node:test";
import { spec } from "node:test/reporters";

const files = process.argv.slice(2).map((file) => resolve(file));
const failed = [];
const stream = run({ files, concurrency: 2 });
stream.on("test:fail", (test) => {
  const suite = test.details?.type === "suite";
  if (suite && test.details.error?.failureType === "subtestsFailed") return; // told by its tests
  failed.push(suite ? { name: test.file, file: test.file } : test);
});
// Until all of it is told: that comes after the stream's own end.
await new Promise((done, wrong) => {
  stream.on("error", wrong);
  stream.compose(new spec()).on("end", done).on("error", wrong).pipe(process.stdout, { end: false });
});

let wrong = 0;
const left = new Map(); // what is run again, each but once
for (const { name, file } of failed) {
  // What fails outside any test goes by its file's name, and the file is run whole.
  const whole = files.some((f) => f.endsWith(name) || name.endsWith(f));
  left.set(`${file} ${whole ? "" : name}`, { file: file ?? (whole ? resolve(name) : undefined), name: whole ? undefined : name });
}
for (const { file, name } of left.values()) {
  console.log(`\nonce more, by itself: ${name ?? file}`);
  const pattern = name === undefined ? [] : [`--test-name-pattern=^${name.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&")}$`];
  const again = spawnSync(process.execPath, ["--test", "--test-concurrency=1", "--test-reporter=spec", ...pattern, ...(file ? [file] : files)], { encoding: "utf8", maxBuffer: 1 << 26 });
  console.log(again.stdout, again.stderr);
  if (again.status !== 0 || !/^ℹ pass [1-9]/m.test(again.stdout)) wrong++;
}
if (left.size > 0) console.log(wrong > 0 ? `${wrong} of ${left.size} failed twice` : `all ${left.size} passed by themselves`);
process.stdout.write("", () => process.exit(wrong > 0 ? 1 : 0));
