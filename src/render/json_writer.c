/* Writing JSON: the only other file that knows cJSON. */
#include "render/json_writer.h"

#include "read/json_text.h"
#include "read/utf8.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

struct sw_writer {
    cJSON *item;
    sw_writer *root; /* itself for the root */
    sw_writer *next; /* of the root's list of children to free */
    sw_arena *arena; /* root only */
    bool failed;     /* root only */
};

sw_writer *sw_writer_new(void) {
    sw_writer *root = calloc(1, sizeof *root);
    if (root == NULL)
        return NULL;
    root->root = root;
    root->item = cJSON_CreateObject();
    root->arena = sw_arena_new();
    if (root->item != NULL && root->arena != NULL)
        return root;
    cJSON_Delete(root->item);
    sw_arena_free(root->arena);
    free(root);
    return NULL;
}

static void attach(sw_writer *in, const char *name, cJSON *item) {
    if (in->root->failed || item == NULL) {
        in->root->failed = true;
        cJSON_Delete(item);
        return;
    }
    bool good = cJSON_IsArray(in->item) ? cJSON_AddItemToArray(in->item, item)
                                        : cJSON_AddItemToObject(in->item, name, item);
    if (!good) {
        in->root->failed = true;
        cJSON_Delete(item);
    }
}

/* A child that could not be made is its own root's child without an item:
 * everything added to it is dropped. */
static sw_writer *child(sw_writer *in, const char *name, cJSON *item) {
    attach(in, name, item);
    sw_writer *out = calloc(1, sizeof *out);
    if (out == NULL) {
        in->root->failed = true;
        return in->root;
    }
    out->item = item;
    out->root = in->root;
    out->next = in->root->next;
    in->root->next = out;
    return out;
}

sw_writer *sw_writer_object(sw_writer *in, const char *name) {
    return child(in, name, cJSON_CreateObject());
}

sw_writer *sw_writer_array(sw_writer *in, const char *name) {
    return child(in, name, cJSON_CreateArray());
}

/* Names of files may hold any bytes; JSON holds UTF-8 alone. What is none becomes
 * U+FFFD. */
static cJSON *valid_string(const char *text) {
    sw_text valid = {0};
    size_t left = strlen(text);
    sw_text_add(&valid, "");
    while (left > 0) {
        size_t step = sw_utf8_length((const unsigned char *)text, left);
        if (step == 0)
            sw_text_add(&valid, "\xEF\xBF\xBD");
        else
            sw_text_add_bytes(&valid, text, step);
        step = step == 0 ? 1 : step;
        text += step;
        left -= step;
    }
    cJSON *item = valid.failed ? NULL : cJSON_CreateString(valid.bytes != NULL ? valid.bytes : "");
    sw_text_free(&valid);
    return item;
}

void sw_writer_text(sw_writer *in, const char *name, const char *text) {
    attach(in, name, text != NULL ? valid_string(text) : cJSON_CreateNull());
}

void sw_writer_integer(sw_writer *in, const char *name, int64_t number) {
    attach(in, name, cJSON_CreateNumber((double)number));
}

void sw_writer_rounded(sw_writer *in, const char *name, double number, int decimals) {
    int64_t milli = 0;
    sw_writer_milli(in, name, sw_round_to(&milli, number, decimals) ? milli : 0, decimals);
}

void sw_writer_number(sw_writer *in, const char *name, double number) {
    double rounded = round(number * 1e6) / 1e6;
    attach(in, name, cJSON_CreateNumber(isfinite(rounded) ? rounded : number));
}

void sw_writer_exact(sw_writer *in, const char *name, double number) {
    const char *text = in->root->failed ? NULL : sw_json_number_text(in->root->arena, number);
    attach(in, name, text != NULL ? cJSON_CreateRaw(text) : NULL);
}

void sw_writer_bool(sw_writer *in, const char *name, bool truth) {
    attach(in, name, cJSON_CreateBool(truth));
}

void sw_writer_money(sw_writer *in, const char *name, int64_t minor, int digits) {
    const char *text = sw_money_text(in->root->arena, minor, digits);
    attach(in, name, text != NULL ? cJSON_CreateString(text) : NULL);
}

void sw_writer_millionths(sw_writer *in, const char *name, int64_t millionths) {
    const char *text = sw_millionths_text(in->root->arena, millionths);
    attach(in, name, text != NULL ? cJSON_CreateString(text) : NULL);
}

void sw_writer_milli(sw_writer *in, const char *name, int64_t milli, int decimals) {
    const char *text = sw_milli_text(in->root->arena, milli, decimals);
    attach(in, name, text != NULL ? cJSON_CreateString(text) : NULL);
}

sw_status sw_writer_finish(char **out, sw_writer *root) {
    char *text = root->failed ? NULL : cJSON_Print(root->item);
    char *whole = NULL;
    size_t length = text == NULL ? 0 : strlen(text);
    if (text != NULL && (whole = malloc(length + 2)) != NULL) {
        memcpy(whole, text, length);
        memcpy(whole + length, "\n", sizeof "\n");
    }
    cJSON_free(text);
    cJSON_Delete(root->item);
    while (root->next != NULL) {
        sw_writer *next = root->next;
        root->next = next->next;
        free(next);
    }
    sw_arena_free(root->arena);
    free(root);
    if (whole == NULL)
        return SW_NO_MEMORY;
    *out = whole;
    return SW_OK;
}
