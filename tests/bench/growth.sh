#!/usr/bin/env bash
# growth.sh RECORDS FILE: time against candidates a role as an SVG drawing, from the numbers
# that run.sh keeps (RECORDS=... tests/bench/run.sh). Both axes are logarithmic. Lines go through
# the medians over the seeds, dots are single seeds; hollow dots did not end in their time or are
# estimated from some of the budgets.
set -u
[ $# -eq 2 ] || { echo "growth.sh RECORDS FILE" >&2 && exit 64; }
awk '
function lg(x) { return log(x) / log(10) }
function across(n) { return left + (lg(n) - x0) / (x1 - x0) * (right - left) }
function up(s) { return bottom - (lg(s) - y0) / (y1 - y0) * (bottom - top) }
function floor(x,    w) { w = int(x); return w > x ? w - 1 : w }
function number(x) { return x >= 1 ? sprintf("%d", x) : sprintf("%." (-floor(lg(x) + 1e-9)) "f", x) }
function text(x, y, anchor, said) {
    printf "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>\n", x, y, anchor, said
}
function line(xa, ya, xb, yb, colour) {
    printf "<line x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\" stroke=\"%s\"/>\n", xa, ya, xb, yb, colour
}
function median(list, count,    i, k, hold) {
    for (i = 2; i <= count; i++)
        for (k = i; k > 1 && list[k] < list[k - 1]; k--) {
            hold = list[k]; list[k] = list[k - 1]; list[k - 1] = hold
        }
    return count % 2 ? list[(count + 1) / 2] : (list[count / 2] + list[count / 2 + 1]) / 2
}
function add(way, n, s, whole) {
    if (s <= 0) return
    dots++
    dot_way[dots] = way; dot_n[dots] = n; dot_s[dots] = s; dot_whole[dots] = whole
    if (!sizes_seen[n]++) sizes[++size_count] = n
    if (dots == 1 || s < s_least) s_least = s
    if (dots == 1 || s > s_most) s_most = s
    if (dots == 1 || n < n_least) n_least = n
    if (dots == 1 || n > n_most) n_most = n
}
NF >= 21 {
    extra = $1 == "plain" ? 0 : 4
    add(1 + extra, $2, $4, $8)
    add(2 + extra, $2, $9, $12)
    add(3 + extra, $2, $13, $16 >= 99 && $16 == $17)
    add(4 + extra, $2, $18, $20 == $21)
}
END {
    if (dots == 0) { print "no numbers" > "/dev/stderr"; exit 1 }
    split("the whole curve|one budget, search|100 budgets, GLPK|one budget, CBC", said, "|")
    split("#1b5e9c #3a8a4d #b8432f #7a5aa6", colour, " ")
    left = 70; right = 620; top = 40; bottom = 440
    x0 = lg(n_least) - 0.1; x1 = lg(n_most) + 0.1
    y0 = floor(lg(s_least)); y1 = floor(lg(s_most)) + 1
    print "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"860\" height=\"500\" viewBox=\"0 0 860 500\" font-family=\"sans-serif\" font-size=\"12\">"
    print "<rect width=\"860\" height=\"500\" fill=\"white\"/>"
    text(left, 24, "start", "Time against candidates; 15 roles; processor time, setup counted")
    for (e = y0; e <= y1; e++) {
        line(left, up(10 ^ e), right, up(10 ^ e), "#cccccc")
        text(left - 6, up(10 ^ e) + 4, "end", number(10 ^ e))
    }
    for (i = 1; i <= size_count; i++) {
        line(across(sizes[i]), bottom, across(sizes[i]), top, "#eeeeee")
        text(across(sizes[i]), bottom + 16, "middle", sizes[i])
    }
    line(left, bottom, right, bottom, "black")
    line(left, bottom, left, top, "black")
    text((left + right) / 2, bottom + 38, "middle", "candidates a role (logarithmic)")
    printf "<text transform=\"translate(20 %d) rotate(-90)\" text-anchor=\"middle\">seconds (logarithmic)</text>\n", (top + bottom) / 2
    for (i = 1; i <= dots; i++)
        printf "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"2.5\" stroke=\"%s\" fill=\"%s\"/>\n", across(dot_n[i]), up(dot_s[i]), \
            colour[(dot_way[i] - 1) % 4 + 1], dot_whole[i] ? colour[(dot_way[i] - 1) % 4 + 1] : "white"
    for (w = 1; w <= 8; w++) {
        points = ""
        for (n = 1; n <= n_most; n++) {
            if (!sizes_seen[n]) continue
            count = 0
            for (i = 1; i <= dots; i++) if (dot_way[i] == w && dot_n[i] == n) list[++count] = dot_s[i]
            if (count) points = points sprintf("%.1f,%.1f ", across(n), up(median(list, count)))
        }
        if (points == "") continue
        dash = w > 4 ? " stroke-dasharray=\"5 3\"" : ""
        printf "<polyline fill=\"none\" stroke=\"%s\" stroke-width=\"1.5\"%s points=\"%s\"/>\n", colour[(w - 1) % 4 + 1], dash, points
        row++
        printf "<line x1=\"640\" y1=\"%d\" x2=\"664\" y2=\"%d\" stroke=\"%s\" stroke-width=\"1.5\"%s/>\n", 46 + 20 * row, 46 + 20 * row, colour[(w - 1) % 4 + 1], dash
        text(670, 50 + 20 * row, "start", said[(w - 1) % 4 + 1] (w > 4 ? ", charges" : ""))
    }
    text(640, 90 + 20 * row, "start", "lines: medians; dots: single seeds;")
    text(640, 106 + 20 * row, "start", "hollow: not ended, or estimated")
    print "</svg>"
}' "$1" >"$2"
