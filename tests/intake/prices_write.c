/* Encodings, and the catalog that a sample is read against. */
#include "prices.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- encodings ----------------------------------------------------------------------------------
 */

static uint32_t next_point(const unsigned char **at) {
    const unsigned char *b = *at;
    int more = b[0] < 0x80 ? 0 : b[0] < 0xE0 ? 1 : b[0] < 0xF0 ? 2 : 3;
    static const unsigned char masks[] = {0x7F, 0x1F, 0x0F, 0x07};
    uint32_t point = b[0] & masks[more];
    for (int i = 1; i <= more; i++)
        point = point << 6 | (b[i] & 0x3F);
    *at = b + more + 1;
    return point;
}

static void add_unit(text *out, uint32_t unit, bool little) {
    char low = (char)(unit & 0xFF), high = (char)(unit >> 8);
    add_bytes(out, little ? (const char[]){low, high} : (const char[]){high, low}, 2);
}

void encode(text *out, const text *list, const char *encoding, bool mark) {
    bool wide = strncmp(encoding, "utf-16", 6) == 0, little = strcmp(encoding, "utf-16le") == 0;
    empty(out);
    if (!wide && strcmp(encoding, "utf-8") == 0) {
        add(out, "%s", mark ? "\xEF\xBB\xBF" : "");
        add_bytes(out, list->bytes, list->length);
        return;
    }
    if (wide && mark)
        add_unit(out, 0xFEFF, little);
    const unsigned char *at = (const unsigned char *)list->bytes, *end = at + list->length;
    while (at < end) {
        uint32_t point = next_point(&at);
        if (wide) {
            add_unit(out, point, little);
        } else {
            char byte = point == 0x20AC ? (char)0x80 : (char)point; /* of 80 to 9F only the euro */
            add_bytes(out, &byte, 1);
        }
    }
}

/* ---- the catalog
 * ----------------------------------------------------------------------------------- */

static void write_at(const char *folder, const char *name, const text *contents) {
    char path[1024];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    write_file(path, contents->bytes, contents->length);
}

static void write_parts(const sample *it, const char *folder) {
    text out = {0};
    add(&out, "{\"schema\":1,\"parts\":[");
    for (int i = 0; i < PARTS; i++) {
        const part *p = &it->parts[i];
        add(&out, "%s{\"id\":\"%s\",\"role\":\"fans\",\"name\":\"%s\",\"maker\":\"%s\"",
            i == 0 ? "" : ",", p->id, p->name, p->maker);
        add(&out, ",\"numbers\":[\"%s\"],\"facts\":{}}\n", p->number);
    }
    add(&out, "]}\n");
    write_at(folder, "parts/all.json", &out);
    free(out.bytes);
}

static void add_columns(text *out, const dialect *d) {
    static const char *const heads[] = {"Number", "Maker", "Article", "Price", "Stock"};
    static const char *const names[] = {"number", "maker", "name", "price", "stock"};
    bool first = true;
    add(out, "\"columns\":{");
    for (int i = 0; i < 5; i++) {
        if (d->order[i] < 0)
            continue;
        add(out, "%s\"%s\":", first ? "" : ",", names[i]);
        if (d->header)
            add(out, "\"%s\"", heads[i]);
        else
            add(out, "%d", d->order[i] + 1);
        first = false;
    }
    add(out, "}");
    if (!d->header)
        add(out, ",\"width\":%d", d->width);
}

static void write_profile(const sample *it, const char *folder) {
    static const char *const decimals[] = {"full", "whole-or-full", "up-to", "none"};
    static const char *const places[] = {"either", "before", "behind"};
    static const char *const flags[] = {"false", "true"};
    const dialect *d = &it->in;
    text out = {0};
    add(&out, "{\"schema\":1,\"id\":\"list\",\"name\":\"a list\",\"seller\":\"counter\",");
    add(&out, "\"encoding\":\"%s\",\"mark\":\"%s\",\"delimiter\":\"%s\",\"quotes\":%s,",
        d->encoding, d->mark, d->delimiter == '\t' ? "\\t" : (const char[]){d->delimiter, '\0'},
        flags[d->quotes]);
    add(&out, "\"lead\":%d,\"header\":%s,", d->lead, flags[d->header]);
    add_columns(&out, d);
    add(&out, ",\"currency\":\"%s\",\"decimal\":\"%c\",\"decimals\":\"%s\"", d->currency,
        d->decimal, decimals[d->decimals]);
    if (d->grouping[0] != '\0')
        add(&out, ",\"grouping\":[\"%s\"],\"grouped\":\"%s\"", d->grouping,
            d->grouped_must ? "must" : "may");
    if (d->sign[0] != '\0')
        add(&out, ",\"signs\":[\"%s\"],\"sign\":\"%s\",\"sign_must\":%s", d->sign,
            places[d->sign_place], flags[d->sign_must]);
    if (d->tax > 0)
        add(&out, ",\"tax\":{\"percent\":%d,\"list\":\"without\",\"listings\":\"with\"}", d->tax);
    add(&out, ",\"no_price\":[\"POA\"],\"twice\":\"%s\"", d->cheapest ? "cheapest" : "refuse");
    add(&out, ",\"forms\":{\"stock\":[{\"like\":\"{n}\"},{\"like\":\"{n}+\"},"
              "{\"like\":\"in stock\",\"is\":5},{\"like\":\"sold out\",\"is\":0},"
              "{\"like\":\"{-}-{days} days\",\"is\":0},{\"like\":\"EOL\",\"gone\":true}]}");
    if (d->step != 20 || one_in(2))
        add(&out, ",\"step\":%d.%d", d->step / 10, d->step % 10);
    add(&out, ",\"otherwise\":{\"days\":2,\"warranty_months\":24,\"return_days\":14}");
    add(&out, ",\"skip\":[{\"cell\":1,\"like\":\"Total{*}\"}]}\n");
    write_at(folder, "profiles/list.json", &out);
    free(out.bytes);
}

void write_catalog(const sample *it, const char *folder) {
    text out = {0};
    add(&out, "{\"schema\":1,\"currency\":\"%s\",\"sellers\":[", it->in.currency);
    add(&out,
        "{\"id\":\"counter\",\"name\":\"the counter\"},{\"id\":\"post\",\"name\":\"post\"}]}\n");
    write_at(folder, "sellers.json", &out);
    write_at(folder, "listings.csv", &it->old);
    write_parts(it, folder);
    write_profile(it, folder);
    empty(&out);
    add(&out, "{\"schema\":1,\"patterns\":[],\"packs\":[{\"like\":\"{n} pcs\",\"source\":\"s\"},");
    add(&out, "{\"like\":\"multipack\",\"source\":\"s\"}]}\n");
    write_at(folder, "patterns.json", &out);
    empty(&out);
    add(&out, "{\"schema\":1,\"profile\":\"list\",\"rows\":[");
    add_bytes(&out, it->confirm.length > 0 ? it->confirm.bytes : "", it->confirm.length);
    add(&out, "]}\n");
    write_at(folder, "../confirm.json", &out);
    free(out.bytes);
}
