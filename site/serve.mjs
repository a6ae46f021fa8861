// A static server for trying the built page on this machine, with the headers a
// careful host would send. Any static host will do as well.
import { createReadStream } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import { createServer } from "node:http";
import { dirname, extname, join, normalize, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { brotliCompress, constants, gzip } from "node:zlib";

export const POLICY =
  "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; worker-src 'self'; connect-src 'self'; img-src 'self' data:";

/** Also lets the page be installed; the element needs no more than the above. */
export const PAGE_POLICY = `${POLICY}; manifest-src 'self'`;

const TYPES = {
  ".css": "text/css; charset=utf-8",
  ".csv": "text/csv; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".ts": "text/plain; charset=utf-8", // the element's types; by its ending a film
  ".txt": "text/plain; charset=utf-8",
  ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json",
};

// What shrinks; a picture is packed already.
const PACKABLE = /^(text\/|image\/svg|application\/(json|wasm|manifest))/;
const SMALL = 256;

/** @type {Record<string, (raw: Buffer) => Promise<Buffer>>} in the order they are preferred */
const PACKERS = {
  // At its best, brotli takes half a minute for the whole calculator; what is 3 % larger takes a third of a second.
  br: (raw) =>
    promisify(brotliCompress)(raw, {
      params: { [constants.BROTLI_PARAM_QUALITY]: raw.length > 1e6 ? 5 : raw.length > 1e5 ? 9 : 11, [constants.BROTLI_PARAM_LGWIN]: 24, [constants.BROTLI_PARAM_SIZE_HINT]: raw.length },
    }),
  gzip: (raw) => promisify(gzip)(raw, { level: 9 }),
};

/** What was packed, by file, state and packing: once for all servers of this program. @type {Map<string, Promise<Buffer>>} */
const packed = new Map();

/** The file, packed as asked. */
function pack(file, tag, encoding) {
  const key = `${encoding} ${tag} ${file}`;
  let found = packed.get(key);
  if (!found) packed.set(key, (found = readFile(file).then(PACKERS[encoding])));
  return found;
}

/** The packing that a browser would rather have, of those it takes; undefined for none. */
export function encodingFor(accepts = "") {
  const takes = new Set();
  for (const part of accepts.toLowerCase().split(",")) {
    const [name, ...more] = part.split(";").map((p) => p.trim());
    if (!more.some((p) => /^q=0(\.0*)?$/.test(p))) takes.add(name);
  }
  return Object.keys(PACKERS).find((name) => takes.has(name));
}

/**
 * Serves folders by the first part of the path.
 * @param {Record<string, string>} mounts path prefix, beginning and ending with "/", to folder; the longest prefix wins
 * @param {{ port?: number, host?: string, types?: Record<string, string>, delay?: (path: string) => number }} [options]
 *   types override the usual ones by extension; delay gives ms to wait before answering
 * @returns {Promise<import("node:http").Server>}
 */
export function serve(mounts, { port = 0, host = "127.0.0.1", types = {}, delay = () => 0 } = {}) {
  const prefixes = Object.keys(mounts).sort((a, b) => b.length - a.length);
  const server = createServer(async (request, response) => {
    const refuse = (status) => response.writeHead(status, { "Content-Type": "text/plain; charset=utf-8" }).end(`${status}\n`);
    try {
      if (request.method !== "GET" && request.method !== "HEAD") return refuse(405);
      const path = decodeURIComponent(new URL(request.url ?? "/", "http://localhost").pathname);
      // Browsers ask for an icon unbidden beside a bare document such as a plan;
      // pages name their own. Nothing to give is no error.
      if (path === "/favicon.ico") return response.writeHead(204).end();
      if (prefixes.includes(`${path}/`)) return response.writeHead(308, { Location: `${path}/` }).end();
      const prefix = prefixes.find((p) => path.startsWith(p));
      if (prefix === undefined) return refuse(404);
      const folder = mounts[prefix];
      let file = normalize(join(folder, path.slice(prefix.length)));
      if (file !== folder && !file.startsWith(folder + sep)) return refuse(404);
      let found = await stat(file).catch(() => undefined);
      if (found?.isDirectory()) found = await stat((file = join(file, "index.html"))).catch(() => undefined);
      if (!found?.isFile()) return refuse(404);
      const wait = delay(path);
      if (wait > 0) await new Promise((resolve) => setTimeout(resolve, wait));
      const tag = `"${found.size.toString(36)}-${found.mtimeMs.toString(36)}"`;
      const type = types[extname(file)] ?? TYPES[extname(file)] ?? "application/octet-stream";
      const packable = found.size > SMALL && PACKABLE.test(type);
      const encoding = packable ? encodingFor(request.headers["accept-encoding"]) : undefined;
      const own = encoding ? tag.replace(/"$/, `-${encoding}"`) : tag; // each form of a file is a thing of its own to a cache
      const headers = {
        "Content-Type": type,
        "Content-Security-Policy": prefix === "/" ? PAGE_POLICY : POLICY,
        "X-Content-Type-Options": "nosniff",
        "Referrer-Policy": "no-referrer",
        "Cache-Control": "no-cache",
        ETag: own,
        ...(packable ? { Vary: "Accept-Encoding" } : {}),
      };
      if (request.headers["if-none-match"] === own) return response.writeHead(304, headers).end();
      if (encoding) {
        const body = await pack(file, tag, encoding);
        response.writeHead(200, { ...headers, "Content-Encoding": encoding, "Content-Length": body.length });
        return response.end(request.method === "HEAD" ? undefined : body);
      }
      response.writeHead(200, { ...headers, "Content-Length": found.size });
      if (request.method === "HEAD") return response.end();
      createReadStream(file).on("error", () => response.destroy()).pipe(response);
    } catch {
      if (!response.headersSent) refuse(400);
      else response.destroy();
    }
  });
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, host, () => resolve(server));
  });
}

/** What is built, by the paths it is served under. */
export function builtMounts() {
  const root = dirname(dirname(fileURLToPath(import.meta.url)));
  return { "/": join(root, "build", "site"), "/landscaper/": join(root, "build", "landscaper") };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const port = Number(process.env.PORT ?? 8080);
  try {
    const server = await serve(builtMounts(), { port });
    const at = `http://localhost:${server.address().port}`;
    console.log(`\nThe same plans in the browser: ${at}/\nIn a landscaper's page:        ${at}/landscaper/\n(Ctrl-C stops the server.)`);
  } catch (err) {
    console.error(err.code === "EADDRINUSE" ? `Port ${port} is in use: try PORT=${port + 1} make run` : String(err));
    process.exit(1);
  }
}
