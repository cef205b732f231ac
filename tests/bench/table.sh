#!/usr/bin/env bash
# table.sh RECORDS: the numbers of run.sh as a table; see there for what stands in it.
set -u
awk '
function median(list, count,    i, k, hold) {
    for (i = 2; i <= count; i++)
        for (k = i; k > 1 && list[k] < list[k - 1]; k--) {
            hold = list[k]; list[k] = list[k - 1]; list[k - 1] = hold
        }
    return count % 2 ? list[(count + 1) / 2] : (list[count / 2] + list[count / 2 + 1]) / 2
}
# The median of a column over the records of a row that measured it.
function middle(row, column,    i, list, count) {
    for (i = 1; i <= rows[row]; i++)
        if (cell[row, i, column] >= 0) list[++count] = cell[row, i, column]
    return count ? median(list, count) : -1
}
# Over the seeds whose curve is proved; "<" where the sweep would have taken longer still.
function ratio(row,    i, list, count, cut) {
    for (i = 1; i <= rows[row]; i++)
        if (cell[row, i, 8] == 1 && cell[row, i, 13] > 0) {
            list[++count] = cell[row, i, 4] / cell[row, i, 13]
            cut = cut || cell[row, i, 16] != cell[row, i, 17]
        }
    return count ? (cut ? "<" : "") sprintf("%.3g", median(list, count)) : "-"
}
function least(row, column,    i, found) {
    for (i = 1; i <= rows[row]; i++)
        if (i == 1 || cell[row, i, column] < found) found = cell[row, i, column]
    return found
}
function sum(row, column,    i, all) {
    for (i = 1; i <= rows[row]; i++) all += cell[row, i, column]
    return all
}
function seconds(value) {
    return value < 0 ? "-" : value < 10 ? sprintf("%.2f", value) : value < 100 ? sprintf("%.1f", value) : sprintf("%.0f", value)
}
function mark(ended, value) { return (ended ? "" : "> ") seconds(value) }
NF >= 21 {
    row = $1 " " $2
    if (!(row in rows)) order[++kinds] = row
    rows[row]++
    for (c = 3; c <= NF; c++) cell[row, rows[row], c] = $c
}
END {
    printf "%-8s %5s %5s %6s %9s %15s %7s %6s %8s %6s %10s %9s %6s %8s %6s\n", "", "", "", "", \
        "curve", "curve", "", "", "best", "", "GLPK", "", "curve:", "CBC", ""
    printf "%-8s %5s %5s %6s %9s %15s %7s %6s %8s %6s %10s %9s %6s %8s %6s\n", "job", "cands", "seeds", \
        "steps", "s", "worst s (seed)", "setup", "MB", "s", "MB", "100 s", "MB", "GLPK", "1 s", "MB"
    for (k = 1; k <= kinds; k++) {
        row = order[k]
        split(row, name, " ")
        worst = 1
        for (i = 2; i <= rows[row]; i++) if (cell[row, i, 4] > cell[row, worst, 4]) worst = i
        proved = least(row, 8) == 1
        ended = sum(row, 16) == sum(row, 17)
        printf "%-8s %5d %5d %6s %9s %15s %7s %6.0f %8s %6.0f %10s %9.0f %6s %8s %6.0f", name[1], name[2], \
            rows[row], (proved ? "" : ">") middle(row, 7), mark(proved, middle(row, 4)), \
            mark(cell[row, worst, 8], cell[row, worst, 4]) " (" cell[row, worst, 3] ")", \
            seconds(middle(row, 5)), middle(row, 6), mark(least(row, 12) == 1, middle(row, 9)), middle(row, 11), \
            mark(ended, middle(row, 13)), middle(row, 15), ratio(row), \
            mark(sum(row, 20) == sum(row, 21), middle(row, 18)), middle(row, 19)
        asked = least(row, 16)
        if (asked < 99)
            printf "  GLPK estimated from %d of 100%s", asked, ended ? "" : ", " sum(row, 16) - sum(row, 17) " cut short"
        else if (!ended)
            printf "  GLPK: %d cut short", sum(row, 16) - sum(row, 17)
        printf "\n"
    }
}' "$1"
