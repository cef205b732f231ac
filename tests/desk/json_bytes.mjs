// A JSON text with the place of every value in it: written for the tests alone, from RFC 8259.
export function scan(text) {
  let at = 0;
  const blanks = () => { while (" \t\r\n".includes(text[at]) && at < text.length) at++; };
  const string = () => {
    const from = at;
    for (at++; text[at] !== '"'; at++) if (text[at] === "\\") at++;
    at++;
    return text.slice(from, at);
  };
  const value = () => {
    const node = { from: at, members: [], kind: text[at] };
    if (text[at] === "{" || text[at] === "[") {
      const close = text[at] === "{" ? "}" : "]";
      at++;
      for (blanks(); text[at] !== close; blanks()) {
        if (text[at] === ",") { at++; blanks(); }
        let name = null;
        if (node.kind === "{") { name = JSON.parse(string()); blanks(); at++; blanks(); }
        const child = value();
        child.name = name;
        node.members.push(child);
      }
      at++;
    } else if (text[at] === '"') {
      string();
    } else {
      while (at < text.length && !" \t\r\n,]}".includes(text[at])) at++;
    }
    node.to = at;
    node.raw = text.slice(node.from, node.to);
    return node;
  };
  blanks();
  return value();
}
