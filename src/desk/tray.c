/* Files dropped on a page: parts in order, within limits, in a private folder. */
#include "desk/tray.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/leftovers.h"
#include "read/plain.h"

#define SAFE_LETTERS "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_."

struct sw_tray {
    char *folder;
    sw_tray_file files[SW_TRAY_FILES];
    size_t count;
    unsigned made; /* folders so far, so that none is used twice */
};

static sw_status wrong(sw_complaints *complaints, const char *name, const char *why,
                       const char *mend, const char *what) {
    sw_complain(complaints, name, "", why, mend, "%s", what);
    return SW_BAD_DATA;
}

static sw_status cannot_write(sw_complaints *complaints, const char *name) {
    if (errno == ENOMEM)
        return SW_NO_MEMORY;
    sw_complain(complaints, name, "", strerror(errno),
                "make room where temporary files lie, or let the program write there",
                "cannot be kept");
    return SW_CANNOT_WRITE;
}

/* ---- base64 --------------------------------------------------------------------------------- */

static int value_of(char letter) {
    if (letter >= 'A' && letter <= 'Z')
        return letter - 'A';
    if (letter >= 'a' && letter <= 'z')
        return letter - 'a' + 26;
    if (letter >= '0' && letter <= '9')
        return letter - '0' + 52;
    return letter == '+' ? 62 : letter == '/' ? 63 : -1;
}

bool sw_base64_read(unsigned char *out, size_t *length, const char *text, size_t letters) {
    *length = 0;
    if (letters % 4 != 0)
        return false;
    size_t padding = letters == 0               ? 0
                     : text[letters - 2] == '=' ? 2
                     : text[letters - 1] == '=' ? 1
                                                : 0;
    for (size_t i = 0; i < letters; i += 4) {
        size_t due = i + 4 == letters ? 4 - padding : 4;
        unsigned long bits = 0;
        for (size_t k = 0; k < 4; k++) {
            int value = k < due ? value_of(text[i + k]) : text[i + k] == '=' ? 0 : -1;
            if (value < 0)
                return false;
            bits = bits << 6 | (unsigned long)value;
        }
        if ((due == 2 && (bits & 0xFFFF) != 0) || (due == 3 && (bits & 0xFF) != 0))
            return false;
        for (size_t k = 0; k + 1 < due; k++)
            out[(*length)++] = (unsigned char)(bits >> (16 - 8 * k));
    }
    return true;
}

/* ---- files ---------------------------------------------------------------------------------- */

/* "FOLDER/NUMBER" and, where `name` is not NULL, a name in it: the letters of the label that mean
 * nothing to a file system. To be freed. */
static char *make_path(const sw_tray *tray, unsigned number, const char *name) {
    size_t room = strlen(tray->folder) + sizeof "/4294967295/_" + (name == NULL ? 0 : strlen(name));
    char *path = malloc(room);
    if (path == NULL)
        return NULL;
    int used = snprintf(path, room, "%s/%u", tray->folder, number);
    if (name == NULL)
        return path;
    char *at = path + used;
    *at++ = '/';
    if (name[0] == '.')
        *at++ = '_';
    for (; *name != '\0'; name++)
        *at++ = *(strchr(SAFE_LETTERS, *name) != NULL ? name : "_");
    *at = '\0';
    return path;
}

static void take_away(sw_tray *tray, size_t index) {
    sw_tray_file *file = &tray->files[index];
    unlink(file->path);
    *strrchr(file->path, '/') = '\0';
    rmdir(file->path);
    free(file->path);
    free(file->name);
    tray->count--;
    memmove(file, file + 1, (tray->count - index) * sizeof *file);
}

static bool make_tray(sw_tray **out, const char *temporary) {
    sw_tray *tray = calloc(1, sizeof *tray);
    if (tray == NULL)
        return false;
    tray->folder = sw_leftover_name(temporary, SW_LEFTOVER_FOLDER);
    if (tray->folder == NULL || mkdtemp(tray->folder) == NULL) {
        free(tray->folder);
        free(tray);
        return false;
    }
    *out = tray;
    return true;
}

static size_t index_of(const sw_tray *tray, const char *name) {
    size_t i = 0;
    while (i < sw_tray_count(tray) && strcmp(tray->files[i].name, name) != 0)
        i++;
    return i;
}

/* A new, empty file of that name, behind the others. */
static sw_status begin_file(sw_tray *tray, const sw_tray_part *part, sw_complaints *complaints) {
    char *folder = make_path(tray, tray->made + 1, NULL);
    sw_tray_file file = {.of = part->of, .path = make_path(tray, tray->made + 1, part->name)};
    file.name = strdup(part->name);
    sw_status status = SW_NO_MEMORY;
    if (folder != NULL && file.path != NULL && file.name != NULL) {
        int made = mkdir(folder, 0700) != 0
                       ? -1
                       : open(file.path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
        status = made < 0 ? cannot_write(complaints, part->name) : SW_OK;
        if (made >= 0)
            close(made);
        else
            rmdir(folder);
    }
    free(folder);
    if (status != SW_OK) {
        free(file.path);
        free(file.name);
        return status;
    }
    tray->made++;
    tray->files[tray->count++] = file;
    return SW_OK;
}

static bool append(const char *path, const unsigned char *bytes, size_t length) {
    int file = open(path, O_WRONLY | O_APPEND | O_CLOEXEC | O_NOFOLLOW);
    if (file < 0)
        return false;
    bool good = true;
    while (length > 0 && good) {
        ssize_t put = write(file, bytes, length);
        good = put > 0 || (put < 0 && errno == EINTR);
        if (put > 0) {
            bytes += put;
            length -= (size_t)put;
        }
    }
    return close(file) == 0 && good;
}

/* ---- parts ---------------------------------------------------------------------------------- */

static sw_status check_part(const sw_tray_part *part, sw_complaints *complaints) {
    size_t length = strlen(part->name);
    if (length == 0 || length > SW_TRAY_NAME_BYTES || !sw_is_plain(part->name, length))
        return wrong(complaints, "the file's name", "names of files stand on the page",
                     "give it a name of at most 100 bytes in plain letters", "cannot be shown");
    if (part->of < 1 || part->part < 1 || part->part > part->of)
        return wrong(complaints, part->name, "parts count from 1 to their number",
                     "send the file anew", "has no such part");
    if (strlen(part->data) > SW_TRAY_PART_LETTERS)
        return wrong(complaints, part->name, "a part has at most 45,000 letters",
                     "send it in smaller parts", "has a part that is too long");
    return SW_OK;
}

static sw_status check_room(const sw_tray *tray, const sw_tray_part *part, size_t index,
                            size_t bytes, sw_complaints *complaints) {
    size_t all = bytes, of_file = bytes;
    bool begins = part->part == 1;
    for (size_t i = 0; i < sw_tray_count(tray); i++)
        all += i == index && begins ? 0 : tray->files[i].bytes;
    if (!begins && index < tray->count)
        of_file += tray->files[index].bytes;
    if (begins && index == SW_TRAY_FILES)
        return wrong(complaints, part->name, "at most 64 files lie on the tray",
                     "take one away first", "has no place on the tray: it is full");
    if (of_file > SW_TRAY_FILE_BYTES)
        return wrong(complaints, part->name, "a file has at most 16 MiB here",
                     "check that it is the file that was meant", "is too large");
    if (all > SW_TRAY_BYTES)
        return wrong(complaints, part->name, "all files together have at most 64 MiB",
                     "take one away first", "has no place on the tray: it is full");
    return SW_OK;
}

static bool is_due(const sw_tray *tray, const sw_tray_part *part, size_t index) {
    if (part->part == 1)
        return true;
    if (index >= sw_tray_count(tray))
        return false;
    const sw_tray_file *file = &tray->files[index];
    return file->of == part->of && file->parts + 1 == part->part;
}

static sw_status put_bytes(sw_tray **tray, const char *temporary, const sw_tray_part *part,
                           const unsigned char *bytes, size_t length, sw_complaints *complaints) {
    size_t index = index_of(*tray, part->name);
    sw_status status = SW_OK;
    if (!is_due(*tray, part, index))
        return wrong(complaints, part->name, "the parts of a file come one after another",
                     "send the file anew", "sent another part than the one that is due");
    status = check_room(*tray, part, index, length, complaints);
    if (status == SW_OK && *tray == NULL && !make_tray(tray, temporary))
        status = cannot_write(complaints, part->name);
    if (status != SW_OK)
        return status;
    if (part->part == 1) {
        if (index < (*tray)->count)
            take_away(*tray, index);
        status = begin_file(*tray, part, complaints);
        index = (*tray)->count - 1;
    }
    if (status != SW_OK)
        return status;
    sw_tray_file *file = &(*tray)->files[index];
    if (!append(file->path, bytes, length)) {
        status = cannot_write(complaints, part->name);
        take_away(*tray, index);
        return status;
    }
    file->bytes += length;
    file->parts++;
    return SW_OK;
}

sw_status sw_tray_put(sw_tray **tray, const char *temporary, const sw_tray_part *part,
                      sw_complaints *complaints) {
    sw_status status = check_part(part, complaints);
    if (status != SW_OK)
        return status;
    size_t letters = strlen(part->data), length = 0;
    unsigned char *bytes = malloc(letters / 4 * 3 + 1);
    if (bytes == NULL)
        return SW_NO_MEMORY;
    if (sw_base64_read(bytes, &length, part->data, letters))
        status = put_bytes(tray, temporary, part, bytes, length, complaints);
    else
        status =
            wrong(complaints, part->name, "parts are written as RFC 4648 says in its section 4",
                  "send the file anew", "has a part that is no base64");
    free(bytes);
    return status;
}

/* ---- the rest ------------------------------------------------------------------------------- */

bool sw_tray_drop(sw_tray *tray, const char *name) {
    size_t index = index_of(tray, name);
    if (index == sw_tray_count(tray))
        return false;
    take_away(tray, index);
    return true;
}

size_t sw_tray_count(const sw_tray *tray) { return tray == NULL ? 0 : tray->count; }

const sw_tray_file *sw_tray_get(const sw_tray *tray, size_t index) {
    return index < sw_tray_count(tray) ? &tray->files[index] : NULL;
}

const sw_tray_file *sw_tray_find(const sw_tray *tray, const char *name) {
    return sw_tray_get(tray, index_of(tray, name));
}

bool sw_tray_is_whole(const sw_tray_file *file) { return file->parts == file->of; }

void sw_tray_free(sw_tray *tray) {
    if (tray == NULL)
        return;
    while (tray->count > 0)
        take_away(tray, tray->count - 1);
    rmdir(tray->folder);
    free(tray->folder);
    free(tray);
}
