/* SPDX-License-Identifier: MIT */
/* embed_text SYMBOL IN OUT: writes IN as `const char SYMBOL[]` and its size, NUL-terminated. */
#include <stdio.h>
#include <stdlib.h>

int main(int argc, char **argv)
{
    if (argc != 4) {
        fprintf(stderr, "usage: embed_text SYMBOL IN OUT\n");
        return 2;
    }
    FILE *in = fopen(argv[2], "rb");
    FILE *out = in ? fopen(argv[3], "wb") : NULL;
    if (!in || !out) {
        perror(in ? argv[3] : argv[2]);
        if (in) fclose(in);
        return 1;
    }
    size_t size = 0;
    fprintf(out, "#include <stddef.h>\nextern const char %s[];\nextern const size_t %s_size;\n",
            argv[1], argv[1]);
    fprintf(out, "const char %s[] = {", argv[1]);
    for (int c = fgetc(in); c != EOF; c = fgetc(in), ++size)
        fprintf(out, "%s%d,", size % 20 ? "" : "\n", c > 127 ? c - 256 : c);
    fprintf(out, "\n0};\nconst size_t %s_size = %zu;\n", argv[1], size);
    int bad = ferror(in) || ferror(out);
    fclose(in);
    if (fclose(out)) bad = 1;
    return bad ? EXIT_FAILURE : EXIT_SUCCESS;
}
