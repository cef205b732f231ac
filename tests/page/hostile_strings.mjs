// A hundred texts that nobody should have to fear. Those that can try to set window.__owned.
const own = "window.__owned=1";
const call = `alert(${own})`;

export const strings = [
    // elements that run or load
    `<script>${own}</script>`, `<script src=x.js></script>`, `<scr<script>ipt>${own}</scr</script>ipt>`,
    `<script/x>${own}</script >`, `<script type=module>${own}</script>`, `<img src=x onerror=${own}>`, `<img src=x onerror="${call}">`,
    `<IMG SRC=x ONERROR=${own}>`, `<img/src=x/onerror=${own}//`, `<svg onload=${own}>`, `<svg><script>${own}</script></svg>`,
    `<svg><animate onbegin=${own} attributeName=x dur=1s>`, `<body onload=${own}>`, `<iframe srcdoc="<script>parent.${own.slice(7)}</script>"></iframe>`,
    `<iframe src=javascript:parent.${own.slice(7)}></iframe>`, `<object data=javascript:${own}></object>`, 
    `<a href=javascript:${own} autofocus tabindex=1 onfocus=${own}>x</a>`, `<input autofocus onfocus=${own}>`,
    `<details open ontoggle=${own}>x</details>`, `<video><source onerror=${own}></video>`, 
    `<form action=javascript:${own}><button>x</button></form>`, `<math><mi onclick=${own}>x</mi></math>`,
    `<base href=javascript:/a/-${own}//>`, `<meta http-equiv=refresh content="0;url=javascript:${own}">`, `<link rel=stylesheet href=x.css>`,
    `<style>*{background:url(x.png)}</style>`, `<style>@import 'x.css';</style>`, `<template><script>${own}</script></template>`,
    // out of an attribute
    `" onmouseover="${own}`, `' onmouseover='${own}`, `" autofocus onfocus="${own}" x="`, `' autofocus onfocus='${own}' x='`, `"><script>${own}</script>`,
    `'><script>${own}</script>`, `" style="position:fixed;inset:0" onclick="${own}`, `\`><img src=x onerror=${own}>`, ` onerror=${own} `, `/onload=${own}/`,
    // out of an element whose text is not parsed
    `</script><script>${own}</script>`, `</SCRIPT ><img src=x onerror=${own}>`, `</style><script>${own}</script>`, `</title><script>${own}</script>`,
    `</textarea><script>${own}</script>`, `</noscript><script>${own}</script>`, `</svg></desc></title><script>${own}</script>`, `</option></select><script>${own}</script>`,
    `</td></tr></table><script>${own}</script>`, `</body></html><script>${own}</script>`, `<noscript><p title="</noscript><img src=x onerror=${own}>">`,
    `<xmp><p title="</xmp><img src=x onerror=${own}>">`, `<plaintext>`, `<textarea>`, `<title>`, `<select><option>`,
    // comments, sections, instructions
    `<!--`, `-->`, `<!--><script>${own}</script>-->`, `--!><script>${own}</script>`, `<!-- --!><img src=x onerror=${own}>`, `]]>`, `<![CDATA[<script>${own}</script>]]>`,
    `<?xml version="1.0"?><x/>`, `<!DOCTYPE html [<!ENTITY x "y">]>`, `<%= ${own} %>`,
    // entities, as they stand
    `&lt;script&gt;${own}&lt;/script&gt;`, `&#60;script&#62;${own}`, `&#x3c;img src=x onerror=${own}&#x3e;`, `&amp;lt;`, `&quot; onclick=&quot;${own}`, `&notit; &copy &sect`,
    `&#0;&#xD800;&#x110000;&#128;`, `&NewLine;&Tab;&colon;`,
    // out of a script's text
    `";${own};"`, `';${own};'`, `\\";${own};//`, `\\';${own};//`, `\${${own}}`, `\`;${own};\``, `\\u003cscript\\u003e${own}`, `\\x3cimg src=x onerror=${own}\\x3e`,
    `a\u2028${own}\u2029b`, `$& $1 $\` $' $$ %s %n %d %%`, `{{constructor.constructor('${own}')()}}`, `__proto__`,
    // out of a style
    `}*{background:url(javascript:${own})}`, `;}</style><img src=x onerror=${own}>`, `expression(${own})`,
    // URLs
    `javascript:${own}`, `data:text/html,<script>${own}</script>`, `//example.invalid/x.js`,
    // letters that turn, join, pile up, hide, or do not end
    `\u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627 123`,
    `Z\u0351\u036b\u0343\u036a\u0302\u036b\u033d\u034f\u0334\u0319\u0324\u031e\u0349\u035a\u032f\u031e\u0320\u034dA\u036b\u0357\u0334\u0362\u0335\u031c\u0330\u0354L`,
    `${"W".repeat(150)}`, `a\u200bb\u200dc\ufeffd\u00ade\u2060f`, `\u0001\u0007\u001b[31m\u007f\u0085\u009f`, `line\nbreak\ttab\r\nend`,
    `\ud83d\udc68\u200d\ud83d\udc69\u200d\ud83d\udc67 \ud835\udd38 \ufdfa \ufffe \uffff`, `  two  blanks  `,
    // last, since some of those before end what turns
    `\u2067\u061c\u200f\u202e99.99 EUR`, `\u202e${own} 99.99 EUR`,
];
