// Go's own glue, wasm_exec.js, as small as the calculators need it, under its
// notice: without what neither of them imports, without the files and processes
// that it makes up for programs that ask for them (unused.mjs has taken out of
// the calculators what would), and without asking whether this is a browser. What
// Go itself looks up in it keeps its name.
import { transform } from "esbuild";

/**
 * @param {string} glue wasm_exec.js
 * @param {Uint8Array[]} programs that are run by it
 * @returns {Promise<string>}
 */
export async function lean(glue, programs) {
  const wanted = new Set(programs.flatMap((program) => WebAssembly.Module.imports(new WebAssembly.Module(program)).map(({ name }) => name)));
  const found = new Set();
  const cut = (from, what, to = "") => {
    const left = from.replace(what, to);
    if (left === from) throw new Error(`wasm_exec.js has another shape: ${what} is not in it`);
    return left;
  };
  let code = glue.replace(/^\t{5}"([\w./]+)": \([\w, ]*\) => \{\n[^]*?^\t{5}\},\n/gm, (all, name) => (found.add(name), wanted.has(name) ? all : ""));
  for (const name of wanted) if (!found.has(name)) throw new Error(`wasm_exec.js has another shape: ${name} is not in it`);
  code = cut(code, /^\t{3}const testCallExport = [^]*?^\t{3}\}\n/m);
  code = cut(code, /^\t{4}_gotest: \{\n[^]*?^\t{4}\},\n/m);
  code = cut(code, /^\t{3}(write|\w+)\((?!fd, buf\))[\w, ]*\) \{(\n[^]*?^\t{3}\}| callback\(.*\); \}),\n/gm);
  for (const made of ["process", "path", "crypto", "performance", "TextEncoder", "TextDecoder"]) code = cut(code, new RegExp(`^\tif \\(!globalThis\\.${made}\\) \\{\\n[^]*?^\t\\}\\n`, "m"));
  code = cut(code, /^\tconst enosys = [^]*?^\t\};\n/m);
  return /^(\/\/.*\n)*/.exec(glue)[0] + (await transform(code, { minify: true, target: "es2022", mangleProps: /^_/, reserveProps: /^_(pendingEvent|makeFuncWrapper)$/ })).code;
}
