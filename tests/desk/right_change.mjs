// What a change of section 18 comes to, written from that section alone: on plain JSON values, with the
// kind that is due at a place told by its name.
const MONEY = new Set(["total", "reserve", "sundries", "sum", "offer", "hoped", "price", "rate_per_hour",
  "price_per_kwh"]);
const FLAGS = new Set(["allow_unknown"]);
const NUMBERS = new Set(["count", "share", "rate_now", "rate_wanted", "loudness_sone", "days", "bench_minutes",
  "worth_at_least", "factor", "level_dba", "distance_m", "machine_dba", "temperature_c", "mains_v",
  "work_hours_a_day", "idle_hours_a_day", "percent", "stock", "speed", "quiet", "looks"]);
const TEXT_LISTS = ["observed", "keep", "replace", "avoid", "strings"];
const OBJECT_LISTS = ["quotes", "given", "musts", "uses", "sums", "complaints"];
const NUMBER = /^-?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?$/;

const key = (element) => {
  const text = (name) => typeof element?.[name] === "string" ? element[name] : undefined;
  if (text("id") === undefined && text("part") !== undefined && text("seller") !== undefined)
    return `${element.part}@${element.seller}`;
  return text("id") ?? text("part") ?? text("complaint") ?? text("use") ?? text("on");
};

// Gives the value, `undefined` for what is taken away; throws where the path is wrong.
// `literal_only`: values are JSON or null; a word that means something only where its kind is due makes "untold".
export function right(root, path, value, literal_only = false) {
  const steps = path.split(".");
  if (steps.some((step) => step === "") || steps.length > 16) throw new Error("path");
  const bare = !/^[{["]/.test(value);
  const literal = bare ? undefined : JSON.parse(value);
  const leaf = (name) => {
    if (!bare) return literal;
    if (value === "null") return undefined;
    if (literal_only) throw new Error("untold");
    if (MONEY.has(name)) return value;
    if (FLAGS.has(name) && ["yes", "true", "no", "false"].includes(value)) return value === "yes" || value === "true";
    if (NUMBERS.has(name) && NUMBER.test(value)) return Number(value);
    if (NUMBERS.has(name) || FLAGS.has(name)) throw new Error("not told by a model: " + path);
    return value;
  };
  const at = (old, step) => {
    if (step === steps.length) return leaf(steps[step - 1]);
    const name = steps[step], last = steps[step - 1] ?? "", above = steps[step - 2] ?? "";
    const byName = TEXT_LISTS.includes(last) || above === "taste" ? "texts"
      : OBJECT_LISTS.includes(last) || above === "machine" ? "objects" : null;
    const kind = old === undefined || (Array.isArray(old) && old.length === 0) ? byName
      : !Array.isArray(old) ? null : typeof old[0] === "string" ? "texts" : "objects";
    if (kind === "texts") {
      if (step + 1 < steps.length || !bare || !["yes", "true", "no", "false", "null"].includes(value))
        throw new Error("text");
      const list = old ?? [], there = list.includes(name);
      const into = value === "yes" || value === "true";
      return into === there ? [...list] : into ? [...list, name] : list.filter((text) => text !== name);
    }
    if (kind === "objects") {
      const list = old ?? [];
      let index = list.findIndex((element) => key(element) === name);
      if (index < 0 && /^[0-9]{1,6}$/.test(name) && Number(name) < list.length) index = Number(name);
      let element = list[index];
      if (element === undefined) {
        if (byName !== "objects") throw new Error("element");
        if (step + 1 < steps.length) {
          const member = { uses: "use", sums: "on", musts: "id", complaints: "complaint" }[last] ?? "part";
          element = member === "part" && name.includes("@")
            ? { part: name.slice(0, name.indexOf("@")), seller: name.slice(name.indexOf("@") + 1) } : { [member]: name };
        }
      }
      const child = at(element, step + 1);
      if (index < 0) return child === undefined ? list : [...list, child];
      return list.flatMap((one, i) => i !== index ? [one] : child === undefined ? [] : [child]);
    }
    if (old !== undefined && (typeof old !== "object" || old === null || Array.isArray(old))) throw new Error("below");
    const child = at(old?.[name], step + 1), out = { ...old };
    if (child === undefined) delete out[name]; else out[name] = child;
    return out;
  };
  return at(root, 0);
}
