/* Values of a tree that a tool wrote, and the names that several tools share. */
#include "intake/dump.h"
#include "base/letters.h"

#include <math.h>
#include <string.h>

#define LARGEST INT64_C(9007199254740991) /* 2^53 - 1 */

/* ---- members -------------------------------------------------------------------------- */

static bool same(const sw_json *a, const sw_json *b) {
    if (a->kind != b->kind)
        return false;
    switch (a->kind) {
    case SW_JSON_TEXT:
        return strcmp(a->text, b->text) == 0;
    case SW_JSON_NUMBER:
        return a->number == b->number;
    case SW_JSON_BOOL:
        return a->truth == b->truth;
    case SW_JSON_NULL:
        return true;
    default:
        return false;
    }
}

/* Is it "NAME #2", "NAME #3"..? */
static bool is_again(const char *name, const char *of, size_t length) {
    if (strncmp(name, of, length) != 0 || strncmp(name + length, " #", 2) != 0)
        return false;
    const char *at = name + length + 2;
    while (*at >= '0' && *at <= '9')
        at++;
    return *at == '\0' && at > name + length + 2;
}

static const sw_json *member(const sw_json *object, const char *name, size_t length) {
    const sw_json *found = NULL;
    if (object == NULL || object->kind != SW_JSON_OBJECT)
        return NULL;
    for (size_t i = 0; i < object->count && found == NULL; i++)
        if (strncmp(object->children[i].name, name, length) == 0 &&
            object->children[i].name[length] == '\0')
            found = &object->children[i];
    for (size_t i = 0; i < object->count && found != NULL; i++)
        if (is_again(object->children[i].name, found->name, length) &&
            !same(&object->children[i], found))
            found = NULL;
    return found == NULL || found->kind == SW_JSON_NULL ? NULL : found;
}

#define LOOKED_FOR_LIMIT 2000 /* mending tells fewer names apart */

/* Recursion is bounded by the gate. */
static bool doubtful(const sw_json *node, size_t *looked_for) {
    for (size_t i = 0; i < node->count; i++) {
        const sw_json *child = &node->children[i];
        const char *mark = child->name == NULL ? NULL : strrchr(child->name, '#');
        size_t length =
            mark == NULL || mark < child->name + 2 ? 0 : (size_t)(mark - child->name) - 1;
        if (length > 0 && is_again(child->name, child->name, length)) {
            if (++*looked_for > LOOKED_FOR_LIMIT)
                return true;
            const sw_json *first = NULL;
            for (size_t j = 0; j < node->count && first == NULL; j++)
                if (node->children[j].name != NULL &&
                    strncmp(node->children[j].name, child->name, length) == 0 &&
                    node->children[j].name[length] == '\0')
                    first = &node->children[j];
            if (first != NULL && !same(first, child))
                return true;
        }
        if (doubtful(child, looked_for))
            return true;
    }
    return false;
}

bool sw_dump_doubtful(const sw_json *root) {
    size_t looked_for = 0;
    return doubtful(root, &looked_for);
}

const sw_json *sw_dump_get(const sw_json *object, const char *name) {
    return member(object, name, strlen(name));
}

const sw_json *sw_dump_down(const sw_json *object, const char *path) {
    for (const char *point = strchr(path, '.'); object != NULL && point != NULL;
         point = strchr(path, '.')) {
        object = member(object, path, (size_t)(point - path));
        path = point + 1;
    }
    return member(object, path, strlen(path));
}

/* ---- values --------------------------------------------------------------------------- */

const char *sw_dump_text(const sw_json *value) {
    return value != NULL && value->kind == SW_JSON_TEXT ? value->text : NULL;
}

bool sw_dump_is(const sw_json *value, const char *text) {
    const char *is = sw_dump_text(value);
    return is != NULL && strcmp(is, text) == 0;
}

static bool whole_text(int64_t *out, const char *text) {
    int64_t number = 0;
    const char *at = text;
    for (; *at >= '0' && *at <= '9'; at++) {
        number = number * 10 + (*at - '0');
        if (number > LARGEST)
            return false;
    }
    *out = number;
    return at > text && *at == '\0';
}

bool sw_dump_whole(int64_t *out, const sw_json *value) {
    if (value == NULL)
        return false;
    if (value->kind == SW_JSON_TEXT)
        return whole_text(out, value->text);
    if (value->kind != SW_JSON_NUMBER || value->number < 0 || value->number > (double)LARGEST ||
        floor(value->number) != value->number)
        return false;
    *out = (int64_t)value->number;
    return true;
}

bool sw_dump_real(double *out, const sw_json *value) {
    if (value == NULL || value->kind != SW_JSON_NUMBER)
        return false;
    *out = value->number;
    return true;
}

bool sw_dump_flag(bool *out, const sw_json *value) {
    int64_t number = 0;
    if (value != NULL && value->kind == SW_JSON_BOOL) {
        *out = value->truth;
        return true;
    }
    if (!sw_dump_whole(&number, value) || number > 1)
        return false;
    *out = number == 1;
    return true;
}

/* ---- places --------------------------------------------------------------------------- */

static const char *or_empty(const sw_dump *dump, const char *text) {
    dump->list->failed |= text == NULL;
    return text == NULL ? "" : text;
}

const char *sw_dump_element(const sw_dump *dump, const char *place, size_t number) {
    return or_empty(dump, sw_arena_format(dump->scratch, "%s[%zu]", place, number));
}

const char *sw_dump_member(const sw_dump *dump, const char *place, const char *name) {
    return or_empty(dump, sw_arena_format(dump->scratch, "%s.%s", place, name));
}

const char *sw_dump_copy(const sw_dump *dump, const char *bytes, size_t length) {
    return or_empty(dump, sw_arena_text(dump->scratch, bytes, length));
}

/* ---- stating -------------------------------------------------------------------------- */

sw_about sw_part_about(const sw_part *part, const char *path) {
    return (sw_about){part->device, part->key, part->dump->file,
                      sw_dump_member(part->dump, part->place, path)};
}

void sw_part_text(const sw_part *part, const char *property, const char *path) {
    const char *text = sw_dump_text(sw_dump_down(part->object, path));
    sw_about about = sw_part_about(part, path);
    if (text != NULL)
        sw_state_text(part->dump->list, &about, property, text, strlen(text));
}

void sw_part_whole(const sw_part *part, const char *property, const char *path) {
    int64_t number = 0;
    if (!sw_dump_whole(&number, sw_dump_down(part->object, path)))
        return;
    sw_about about = sw_part_about(part, path);
    sw_state_whole(part->dump->list, &about, property, number);
}

void sw_part_flag(const sw_part *part, const char *property, const char *path) {
    bool flag = false;
    if (!sw_dump_flag(&flag, sw_dump_down(part->object, path)))
        return;
    sw_about about = sw_part_about(part, path);
    sw_state_flag(part->dump->list, &about, property, flag);
}

static void keep_private(const sw_part *part, const sw_about *about, const char *kind,
                         const sw_json *value) {
    const char *text = sw_dump_text(value);
    if (text != NULL)
        sw_state_private(part->dump->list, about, kind, text, strlen(text));
}

/* Whatever stands under that name, however often: private things are kept, not weighed. */
void sw_part_private(const sw_part *part, const char *kind, const char *path) {
    const sw_json *value = sw_dump_down(part->object, path);
    sw_about about = sw_part_about(part, path);
    keep_private(part, &about, kind, value);
    if (value != NULL && value->kind == SW_JSON_ARRAY)
        for (size_t i = 0; i < value->count; i++)
            keep_private(part, &about, kind, &value->children[i]);
}

/* ---- names of drives ------------------------------------------------------------------- */

static size_t letters(const char *at) {
    size_t length = 0;
    while (at[length] >= 'a' && at[length] <= 'z')
        length++;
    return length;
}

static size_t digits(const char *at) {
    size_t length = 0;
    while (at[length] >= '0' && at[length] <= '9')
        length++;
    return length;
}

static bool begins(const char *text, const char *with) {
    return strncmp(text, with, strlen(with)) == 0;
}

/* Names that the kernel gives to drives that can be held in a hand, virtual ones too. */
static bool is_lettered(const char *name) {
    static const char *const kinds[] = {"sd", "hd", "vd", "xvd"};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (begins(name, kinds[i])) {
            size_t length = letters(name);
            return length > strlen(kinds[i]) && length < 16 && name[length] == '\0';
        }
    return false;
}

/* "nvme0n1", "mmcblk0": what number follows, and the namespace, or NULL. */
static bool is_numbered(const char *name, bool *is_controller) {
    bool nvme = begins(name, "nvme"), card = begins(name, "mmcblk");
    size_t stem = nvme ? 4 : 6;
    size_t length = nvme || card ? digits(name + stem) : 0;
    if (length == 0 || length > 9)
        return false;
    const char *rest = name + stem + length;
    *is_controller = nvme && *rest == '\0';
    if (card || *is_controller)
        return *rest == '\0';
    size_t space = *rest == 'n' ? digits(rest + 1) : 0;
    return space > 0 && space < 10 && rest[1 + space] == '\0';
}

const char *sw_dump_drive(const sw_dump *dump, const char *path, bool controllers) {
    const char *name = path == NULL ? "" : begins(path, "/dev/") ? path + 5 : path;
    bool is_controller = false;
    if (is_lettered(name))
        return name;
    if (!is_numbered(name, &is_controller) || (is_controller && !controllers))
        return NULL;
    /* A controller has one namespace in all but storage for many hosts. */
    return is_controller ? or_empty(dump, sw_arena_format(dump->scratch, "%sn1", name)) : name;
}

/* ---- PCI addresses ---------------------------------------------------------------------- */

static size_t hex(const char *text, size_t at, size_t left) {
    size_t length = 0;
    while (at + length < left && length < 16 && text[at + length] != '\0' &&
           strchr("0123456789abcdefABCDEF", text[at + length]) != NULL)
        length++;
    return length;
}

/* [domain:]bus:device.function: 4 or more, 2, 2 and 1 digit. */
const char *sw_dump_pci(const sw_dump *dump, const char *text, size_t left, size_t *length) {
    size_t first = hex(text, 0, left), begin = 0, domain = 0;
    if (first >= 4 && first < left && text[first] == ':') {
        domain = first;
        begin = first + 1;
    }
    static const char shape[] = "xx:xx.x";
    for (size_t i = 0; i < sizeof shape - 1; i++) {
        size_t at = begin + i;
        bool fits =
            at < left && (shape[i] == 'x' ? hex(text, at, at + 1) == 1 : text[at] == shape[i]);
        if (!fits)
            return NULL;
    }
    *length = begin + sizeof shape - 1;
    bool zero = true;
    for (size_t i = 0; i < domain; i++)
        zero &= text[i] == '0';
    size_t from = zero ? begin : 0;
    char *name = sw_arena_text(dump->scratch, text + from, *length - from);
    for (char *at = name; at != NULL && *at != '\0'; at++)
        *at = sw_small_letter(*at);
    return or_empty(dump, name);
}

const char *sw_dump_code(const sw_dump *dump, const char *text) {
    char *code = sw_arena_text(dump->scratch, text, 4);
    for (char *at = code; at != NULL && *at != '\0'; at++)
        *at = sw_small_letter(*at);
    return or_empty(dump, code);
}

static bool all_hex(const char *text, size_t length) { return hex(text, 0, length) == length; }

size_t sw_dump_name(const sw_dump *dump, const char *text, size_t length, const char **id) {
    *id = NULL;
    size_t name = length;
    if (length >= 6 && text[length - 1] == ']' && all_hex(text + length - 5, 4)) {
        bool one = text[length - 6] == '[';
        bool two = length >= 11 && text[length - 6] == ':' && text[length - 11] == '[' &&
                   all_hex(text + length - 10, 4);
        name = one ? length - 6 : two ? length - 11 : length;
    }
    if (name < length) {
        *id = sw_dump_code(dump, text + length - 5);
        while (name > 0 && text[name - 1] == ' ')
            name--;
    }
    return name;
}
