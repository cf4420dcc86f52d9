/* SPDX-License-Identifier: MIT */
/* Parts into one file: in their order, with one date and one degree of compression. */
#include "docx.h"

#include <stdlib.h>
#include <zip.h>

#define COMPRESSION 9

/* Same input, same bytes: the first day that a zip file can name, at noon, which every time zone
 * has. Year - 1980, month, day in 7, 4 and 5 bits; hour in the upper 5 bits of 16. */
#define ZIP_DATE (0u << 9 | 1u << 5 | 1u)
#define ZIP_TIME (12u << 11)

static bool add_part(zip_t *zip, const dt_docx_part *part)
{
    zip_source_t *source = zip_source_buffer(zip, part->bytes, part->size, 0);
    if (!source) return false;
    const zip_int64_t at = zip_file_add(zip, part->name, source, ZIP_FL_ENC_UTF_8);
    if (at < 0) {
        zip_source_free(source);
        return false;
    }
    return zip_file_set_dostime(zip, (zip_uint64_t)at, ZIP_TIME, ZIP_DATE, 0) == 0 &&
           zip_set_file_compression(zip, (zip_uint64_t)at, ZIP_CM_DEFLATE, COMPRESSION) == 0;
}

static dt_status read_back(zip_source_t *packed, dt_text *out)
{
    zip_stat_t about;
    dt_status status = DT_E_MEMORY;
    zip_stat_init(&about);
    if (zip_source_stat(packed, &about) != 0 || !(about.valid & ZIP_STAT_SIZE)) return status;
    char *bytes = malloc((size_t)about.size + 1);
    if (bytes && zip_source_open(packed) == 0) {
        if (zip_source_read(packed, bytes, about.size) == (zip_int64_t)about.size) status = DT_OK;
        zip_source_close(packed);
    }
    if (status != DT_OK) {
        free(bytes);
        return status;
    }
    bytes[about.size] = '\0';
    *out = (dt_text){bytes, (size_t)about.size};
    return DT_OK;
}

dt_status dt_docx_pack(const dt_docx_part *parts, size_t count, dt_text *out)
{
    zip_error_t error;
    zip_error_init(&error);
    zip_source_t *packed = zip_source_buffer_create(NULL, 0, 0, &error);
    zip_t *zip = packed ? zip_open_from_source(packed, ZIP_TRUNCATE, &error) : NULL;
    dt_status status = DT_E_MEMORY;
    if (zip) {
        zip_source_keep(packed); /* closing the package would take it along */
        bool good = true;
        for (size_t i = 0; good && i < count; ++i)
            good = add_part(zip, &parts[i]);
        if (good && zip_close(zip) == 0)
            status = read_back(packed, out);
        else
            zip_discard(zip);
    }
    if (packed) zip_source_free(packed);
    zip_error_fini(&error);
    return status;
}
