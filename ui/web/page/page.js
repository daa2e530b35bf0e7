// The page around the bench: it waits for the build, starts it, and lends it what only a page has.
"use strict";

const at = (id) => document.getElementById(id);
document.body.classList.add("waiting");

// What is kept in the browser's own storage. A browser may refuse it; then nothing is kept.
const store = {
  get(key) { try { return localStorage.getItem("underload." + key); } catch { return null; } },
  set(key, text) { try { localStorage.setItem("underload." + key, text); } catch { note("The browser keeps nothing for this page."); } },
};

let noteEnds = 0;
function note(words) {
  at("note").textContent = words;
  at("note").hidden = false;
  clearTimeout(noteEnds);
  noteEnds = setTimeout(() => { at("note").hidden = true; }, 6000);
}

// The program asks for the next frame after each one, whether anything is to be drawn or not. While nothing is, its
// request is held back, so that a bench that is only looked at costs nothing.
const realFrame = window.requestAnimationFrame.bind(window);
let held = null, due = true;
window.requestAnimationFrame = (draw) => {
  if (!due) { held = draw; return 0; }
  due = false;
  return realFrame(draw);
};

let audio = null; // what sounds are played through, once there was one

// The program and the page know each other through this object; the program adds report, saved, open, theme and look.
const underload = {
  name: "", text: "", faults: [], hide: false, case: "",
  kept: () => store.get("work:" + underload.name + underload.case),
  keep: (work) => store.set("work:" + underload.name + underload.case, work),
  ready() {
    document.body.classList.remove("waiting");
    const canvas = document.querySelector("canvas");
    canvas.setAttribute("role", "application");
    canvas.setAttribute("aria-label", "Bench. Press F1 for the keys.");
    canvas.focus();
    keepOffline();
  },
  wake() { // the program wants a frame
    if (!held) { due = true; return; }
    realFrame(held);
    held = null;
  },
  shown: (name) => { if (underload.name && name !== underload.name) underload.case = ""; underload.name = name; document.title = name + " – underload"; },
  said: (words) => { at("said").textContent = words; },
  focused: (words) => { at("focused").textContent = words; },
  say: note,
  copy(words) {
    if (!navigator.clipboard) return note("Not copied: a browser allows that only on this machine or over TLS.");
    navigator.clipboard.writeText(words).then(() => note("Copied: " + words), (e) => note("Not copied: " + e.message));
  },
  save(name, bytes) {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([bytes]));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    note("Saved as " + name + " among the downloads.");
  },
  play(bytes, hertz) { // numbers of two bytes, the low one first
    try {
      audio ??= new AudioContext();
      audio.resume();
      const numbers = new DataView(bytes.buffer), buffer = audio.createBuffer(1, bytes.length / 2, hertz), wave = buffer.getChannelData(0);
      for (let i = 0; i < wave.length; i++) wave[i] = numbers.getInt16(2 * i, true) / 32768;
      const source = audio.createBufferSource();
      source.buffer = buffer;
      source.connect(audio.destination);
      source.start();
    } catch (e) { note("There is no sound in this browser: " + e.message); }
  },
  choose(kind) {
    at("choose").accept = { circuit: ".yaml,.yml", log: ".jsonl,.log,.txt", faults: ".faults,.txt" }[kind] || "";
    at("choose").value = "";
    at("choose").click();
  },
};
window.underload = underload;

at("choose").addEventListener("change", async () => {
  for (const file of at("choose").files) underload.open(file.name, new Uint8Array(await file.arrayBuffer()));
});
document.addEventListener("visibilitychange", () => underload.look?.());
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", (e) => underload.theme?.(e.matches));

function failed(what, why) {
  document.body.classList.add("failed");
  at("what").textContent = what;
  at("detail").textContent = why;
}

// The news: how the build is getting on, and that the circuit was saved.
let started = false, circuit = "", heard = false;
const news = new EventSource("events");
news.addEventListener("build", (e) => {
  heard = true;
  const build = JSON.parse(e.data);
  if (build.ready) return start(build.version, build.bytes);
  if (started) return;
  if (build.failed) return failed("The bench could not be built for the browser.", build.failed);
  at("what").textContent = "The bench is being built for the browser. This is done once, and takes a minute or two.";
  at("detail").textContent = (build.of ? build.done + " of at most " + build.of + " packages: " : "") + (build.now || "");
  if (build.of) { at("how-far").max = build.of; at("how-far").value = build.done; }
});
news.addEventListener("circuit", (e) => {
  if (started && circuit && e.data !== circuit) fetchCircuit().then((c) => underload.saved?.(c.text));
});
news.addEventListener("error", () => { // the server is away: start with what was kept, if it was
  if (!heard && !started && store.get("build")) start(store.get("build"), Number(store.get("bytes")));
});

async function fetchCircuit() {
  const c = await (await fetch("circuit")).json();
  circuit = c.version;
  return c;
}

async function start(version, bytes) {
  if (started) {
    if (version !== store.get("build")) note("There is a newer build: load this page again to have it.");
    return;
  }
  started = true;
  if (!document.createElement("canvas").getContext("webgl2")) {
    return failed("This browser cannot show the bench: it has no WebGL 2.",
      "Switch on hardware acceleration in its settings, or use another browser, or the window of its own: underload view.");
  }
  store.set("build", version);
  store.set("bytes", String(bytes));
  try {
    const c = await fetchCircuit();
    underload.shown(c.name);
    underload.text = c.text;
    underload.faults = c.faults || [];
    underload.hide = Boolean(c.hide);
    underload.case = c.case ? "#" + c.case : "";
    await load("wasm_exec.js?v=" + version);
    at("what").textContent = "The bench is being loaded.";
    at("how-far").max = bytes;
    const go = new Go();
    const { instance } = await WebAssembly.instantiateStreaming(counted(await fetch("underload.wasm?v=" + version)), go.importObject);
    at("what").textContent = "The bench is being laid out.";
    at("detail").textContent = "";
    await go.run(instance);
    document.body.classList.add("waiting");
    failed("The bench has stopped.", "Load this page again. Your work is kept.");
  } catch (e) {
    document.body.classList.add("waiting");
    failed("The bench could not be started.", String(e));
  }
}

function load(source) {
  return new Promise((done, wrong) => {
    const script = document.createElement("script");
    script.src = source;
    script.onload = done;
    script.onerror = () => wrong(new Error(source + " did not load"));
    document.head.append(script);
  });
}

// counted shows how much of an answer has come.
function counted(answer) {
  if (!answer.ok) throw new Error("The server answered " + answer.status);
  let sum = 0;
  const count = new TransformStream({
    transform(piece, out) {
      sum += piece.length;
      at("how-far").value = sum;
      at("detail").textContent = (sum / 1e6).toFixed(1) + " MB";
      out.enqueue(piece);
    },
  });
  return new Response(answer.body.pipeThrough(count), { headers: { "Content-Type": "application/wasm" } });
}

// From now on it works without the server too, where the browser allows that: on this machine, or over TLS.
function keepOffline() {
  if (!navigator.serviceWorker) return;
  navigator.serviceWorker.register("worker.js").then(() => navigator.serviceWorker.ready).then((worker) => {
    const version = store.get("build");
    worker.active.postMessage(["./", "page.css", "page.js", "icon.svg", "app.webmanifest", "circuit",
      "wasm_exec.js?v=" + version, "underload.wasm?v=" + version]);
  }).catch((e) => note("Not kept for working offline: " + e.message));
}
