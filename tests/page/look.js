// Put into a page under test: what stands on it, in which colours, and where.
globalThis.__look = (() => {
    const canvas = document.createElement("canvas");
    canvas.width = canvas.height = 1;
    const brush = canvas.getContext("2d", { willReadFrequently: true });

    // Any colour as CSS computes it -> [red, green, blue, alpha 0 to 1]; null where it is no plain colour.
    function colour(text) {
        const plain = text.match(/^rgba?\(([\d.]+), ([\d.]+), ([\d.]+)(?:, ([\d.]+))?\)$/);
        if (plain) return [+plain[1], +plain[2], +plain[3], plain[4] === undefined ? 1 : +plain[4]];
        if (/^(none|context-|url\()/.test(text)) return null;
        brush.clearRect(0, 0, 1, 1);
        brush.fillStyle = "#010203";
        brush.fillStyle = text;
        brush.fillRect(0, 0, 1, 1);
        const [red, green, blue, alpha] = brush.getImageData(0, 0, 1, 1).data;
        return [red, green, blue, alpha / 255];
    }
    const mix = ([r, g, b, a], below) => [r, g, b].map((part, i) => part * a + below[i] * (1 - a));

    function opacity(element) {
        let all = 1;
        for (let at = element; at; at = at.parentElement) all *= Number(getComputedStyle(at).opacity);
        return all;
    }

    // What is painted in an SVG before `element` and covers the middle of `box`.
    function paintedBelow(element, box, ground) {
        const svg = element.ownerSVGElement;
        if (!svg) return ground;
        const x = box.left + box.width / 2, y = box.top + box.height / 2;
        for (const shape of svg.querySelectorAll("rect, path, circle, ellipse, polygon")) {
            if (!(shape.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_FOLLOWING)) continue;
            const style = getComputedStyle(shape), fill = colour(style.fill);
            const matrix = shape.getScreenCTM();
            if (!fill || !matrix || shape.contains(element) || !visible(shape)) continue;
            const point = new DOMPoint(x, y).matrixTransform(matrix.inverse());
            if (!shape.isPointInFill(point)) continue;
            ground = mix([fill[0], fill[1], fill[2], fill[3] * Number(style.fillOpacity) * opacity(shape)], ground);
        }
        return ground;
    }

    // The ground behind an element: colours up to the nearest opaque one; white paper beyond.
    function ground(element, box, from = element) {
        const layers = [];
        let picture = false;
        for (let at = from; at; at = at.parentElement) {
            if (at.ownerSVGElement) continue;
            const style = getComputedStyle(at);
            if (style.backgroundImage !== "none") picture = true;
            const layer = colour(style.backgroundColor);
            if (layer && layer[3] > 0) layers.push(layer);
            if (layer && layer[3] === 1) break;
        }
        let below = [255, 255, 255];
        for (const layer of layers.reverse()) below = mix(layer, below);
        return { colour: paintedBelow(element, box, below), picture };
    }

    function visible(element) {
        const style = getComputedStyle(element);
        if (style.visibility !== "visible" || style.display === "none" || opacity(element) === 0) return false;
        return element.checkVisibility ? element.checkVisibility({ contentVisibilityAuto: false }) : true;
    }

    // Text for the ear alone stands in a box of a point.
    function seenBox(element, box) {
        if (box.width <= 1 || box.height <= 1) return false;
        for (let at = element; at && !at.ownerSVGElement; at = at.parentElement) {
            const style = getComputedStyle(at), own = at.getBoundingClientRect();
            if (style.overflowX !== "visible" && own.width <= 1 && own.height <= 1) return false;
            if (style.clipPath !== "none" || (style.clip !== "auto" && style.position === "absolute")) return false;
        }
        return true;
    }

    const nameOf = (element) => {
        const id = element.id ? `#${element.id}` : "";
        const kind = element.getAttribute("class") ? `.${element.getAttribute("class").split(/\s+/).join(".")}` : "";
        const is = element.dataset?.is ? `[${element.dataset.is}]` : "";
        return element.tagName.toLowerCase() + id + kind + is;
    };

    function textNodes() {
        const found = [];
        const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
        for (let node = walk.nextNode(); node; node = walk.nextNode()) {
            const element = node.parentElement;
            if (!node.data.trim() || element.closest("script, style, noscript > *:empty, title, desc, template")) continue;
            if (!visible(element)) continue;
            const range = document.createRange();
            range.selectNodeContents(node);
            const box = range.getBoundingClientRect();
            if (seenBox(element, box)) found.push({ node, element, box });
        }
        return found;
    }

    function inkOf(element, pseudo) {
        const style = getComputedStyle(element, pseudo);
        const inSvg = !pseudo && element.ownerSVGElement;
        const ink = colour(inSvg ? style.fill : style.color);
        return ink && [ink[0], ink[1], ink[2], ink[3] * opacity(element) * (inSvg ? Number(style.fillOpacity) : 1)];
    }

    function sizeOf(element, pseudo) {
        const style = getComputedStyle(element, pseudo);
        let scale = 1;
        const svg = element.ownerSVGElement;
        if (svg) scale = Math.abs(element.getScreenCTM()?.a ?? 1);
        const size = parseFloat(style.fontSize) * scale;
        return { size, large: size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700) };
    }

    // Every text: its ink, its ground, its size.
    function texts() {
        const found = textNodes().map(({ node, element, box }) => ({
            what: `${nameOf(element)} "${node.data.trim().slice(0, 40)}"`, element,
            ink: inkOf(element), ...(({ colour: under, picture }) => ({ under, picture }))(ground(element, box)),
            ...sizeOf(element),
        }));
        for (const element of document.querySelectorAll("input, select, textarea, button")) {
            if (!visible(element) || element.type === "range") continue;
            const box = element.getBoundingClientRect(), behind = ground(element, box);
            const entry = (what, pseudo) => ({ what: `${nameOf(element)} ${what}`, element,
                ink: inkOf(element, pseudo), under: behind.colour, picture: behind.picture, ...sizeOf(element, pseudo) });
            if (element.tagName !== "BUTTON") found.push(entry("value"));
            if (element.placeholder) found.push(entry("placeholder", "::placeholder"));
        }
        for (const element of document.body.querySelectorAll("*")) {
            if (element.ownerSVGElement || !visible(element)) continue;
            for (const pseudo of ["::before", "::after", "::marker"]) {
                const content = getComputedStyle(element, pseudo).content;
                if (!/^"[^"]*\S[^"]*"/.test(content)) continue;
                const behind = ground(element, element.getBoundingClientRect());
                found.push({ what: `${nameOf(element)}${pseudo}`, element, ink: inkOf(element, pseudo),
                    under: behind.colour, picture: behind.picture, ...sizeOf(element, pseudo) });
            }
        }
        return found;
    }

    // Every drawn shape that is no decoration: its line and its fill on what is behind it. Lines of a grid and
    // the like carry data-decor, themselves or on a group.
    function shapes() {
        const found = [];
        for (const shape of document.querySelectorAll("svg :is(path, line, polyline, polygon, circle, ellipse, rect)")) {
            if (shape.closest("[data-decor], defs, clipPath, mask, symbol, marker") || !visible(shape)) continue;
            const box = shape.getBoundingClientRect(), whole = shape.ownerSVGElement.getBoundingClientRect();
            if (box.width * box.height >= 0.95 * whole.width * whole.height && whole.width > 0) continue;
            const style = getComputedStyle(shape), behind = ground(shape, box);
            const inks = [];
            const put = (text, alpha) => {
                const ink = colour(text);
                if (ink) inks.push([ink[0], ink[1], ink[2], ink[3] * alpha * opacity(shape)]);
            };
            if (parseFloat(style.strokeWidth) > 0) put(style.stroke, Number(style.strokeOpacity));
            if (!["line", "polyline"].includes(shape.tagName)) put(style.fill, Number(style.fillOpacity));
            if (inks.length > 0) found.push({ what: nameOf(shape), inks, under: behind.colour });
        }
        return found;
    }

    // The edges of what can be typed into or pressed.
    function edges() {
        const found = [];
        for (const element of document.querySelectorAll("input, select, textarea, button")) {
            if (!visible(element) || ["range", "checkbox", "radio"].includes(element.type)) continue;
            const style = getComputedStyle(element), box = element.getBoundingClientRect();
            const outside = ground(element, box, element.parentElement).colour;
            const inks = [style.borderTopWidth, style.borderRightWidth, style.borderBottomWidth, style.borderLeftWidth]
                .map((width, i) => parseFloat(width) > 0 &&
                    colour([style.borderTopColor, style.borderRightColor, style.borderBottomColor, style.borderLeftColor][i]))
                .filter(Boolean);
            inks.push([...ground(element, box).colour, 1]);
            found.push({ what: `edge of ${nameOf(element)}`, inks, under: outside });
        }
        return found;
    }

    const plain = ({ element, ...rest }) => rest;
    return {
        texts: () => texts().map(plain),
        // The texts within the element that a selector names.
        textsOf(selector) {
            const root = document.querySelector(selector);
            return root ? texts().filter(({ element }) => root.contains(element)).map(plain) : [];
        },
        shapes, edges, nameOf, visible,
        seen: () => textNodes().map(({ node }) => node.data),

        // Boxes beyond the right edge (but for what scrolls inside its own box), and text cut off.
        beyond(width) {
            const found = [];
            const scrolls = (element) => {
                for (let at = element.parentElement; at; at = at.parentElement)
                    if (/auto|scroll/.test(getComputedStyle(at).overflowX) && at !== document.documentElement &&
                        at !== document.body) return at;
                return null;
            };
            for (const element of document.body.querySelectorAll("*")) {
                if (!visible(element) || element.closest("script, style, noscript")) continue;
                const box = element.getBoundingClientRect();
                if (box.width <= 1 || box.height <= 1) continue;
                const holder = scrolls(element);
                if (!holder && (box.right > width + 0.6 || box.left < -0.6) && seenBox(element, box))
                    found.push(`${nameOf(element)} reaches from ${box.left.toFixed(1)} to ${box.right.toFixed(1)} of ${width}`);
                const style = getComputedStyle(element);
                const cuts = /hidden|clip/.test(style.overflowX) || style.textOverflow === "ellipsis";
                if (cuts && !element.ownerSVGElement && element.tagName !== "svg" && element.tagName !== "INPUT" &&
                    element.scrollWidth > element.clientWidth + 1 && seenBox(element, box))
                    found.push(`${nameOf(element)} cuts off ${element.scrollWidth - element.clientWidth} px`);
                const cutsDown = /hidden|clip/.test(style.overflowY);
                if (cutsDown && !element.ownerSVGElement && element.tagName !== "svg" &&
                    element.scrollHeight > element.clientHeight + 1 && seenBox(element, box))
                    found.push(`${nameOf(element)} cuts off ${element.scrollHeight - element.clientHeight} px below`);
            }
            return found;
        },
        // Numbers whose digits are torn apart by the end of a line.
        torn() {
            const found = [], range = document.createRange();
            for (const { node, element } of textNodes())
                for (const match of node.data.matchAll(/\d[\d.]*\d/g)) {
                    range.setStart(node, match.index);
                    range.setEnd(node, match.index + match[0].length);
                    const tops = [...range.getClientRects()].map(({ top }) => Math.round(top));
                    if (tops.some((top) => Math.abs(top - tops[0]) > 4)) found.push(`${nameOf(element)}: ${match[0]} is torn apart`);
                }
            return found;
        },
        // Words in drawings that a shape painted later hides, that stand on one another, or that reach out of the drawing.
        hidden() {
            const found = [];
            for (const svg of document.querySelectorAll("svg")) {
                if (!visible(svg)) continue;
                const words = [...svg.querySelectorAll("text")].filter((text) => visible(text) && text.textContent.trim());
                const boxes = words.map((text) => text.getBoundingClientRect()), whole = svg.getBoundingClientRect();
                words.forEach((text, i) => {
                    const box = boxes[i], word = text.textContent.trim();
                    if (box.left < whole.left - 1 || box.right > whole.right + 1 || box.top < whole.top - 1 || box.bottom > whole.bottom + 1)
                        found.push(`"${word}" reaches out of its drawing`);
                    const points = [0.1, 0.3, 0.5, 0.7, 0.9].flatMap((x) => [0.4, 0.7].map((y) =>
                        new DOMPoint(box.left + x * box.width, box.top + y * box.height)));
                    for (const shape of svg.querySelectorAll("rect, path, circle, ellipse, polygon")) {
                        if (!(text.compareDocumentPosition(shape) & Node.DOCUMENT_POSITION_FOLLOWING) || !visible(shape)) continue;
                        const style = getComputedStyle(shape), fill = colour(style.fill), matrix = shape.getScreenCTM();
                        if (!fill || fill[3] * Number(style.fillOpacity) < 0.5 || !matrix) continue;
                        const back = matrix.inverse();
                        if (points.some((point) => shape.isPointInFill(point.matrixTransform(back)))) {
                            found.push(`"${word}" is hidden by ${nameOf(shape)}`);
                            break;
                        }
                    }
                    for (let k = 0; k < i; k++) {
                        const other = boxes[k], across = Math.min(box.right, other.right) - Math.max(box.left, other.left);
                        const down = Math.min(box.bottom, other.bottom) - Math.max(box.top, other.top);
                        if (across > 2 && down > 0.35 * Math.min(box.height, other.height))
                            found.push(`"${word}" stands on "${words[k].textContent.trim()}"`);
                    }
                });
            }
            return found;
        },
        sizes: () => textNodes().filter(({ element }) => !element.ownerSVGElement)
            .map(({ node, element }) => ({ what: `${nameOf(element)} "${node.data.trim().slice(0, 30)}"`,
                size: parseFloat(getComputedStyle(element).fontSize) })),
    };
})();
