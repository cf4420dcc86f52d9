#!/bin/sh
# The libraries as a program finds them: installed into a prefix, docs/samples/embed.c is built with
# pkg-config (shared and static) and with CMake, and draws what the command draws. $1 is the command,
# $2 the source folder.
set -eu
build=$(cd "$(dirname "$1")" && pwd)
source=$(cd "$2" && pwd)
drawtube=$build/$(basename "$1")
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail=0
bad() { echo "$*"; fail=1; }
cached() { sed -n "s/^$1:[A-Z]*=//p" "$build/CMakeCache.txt"; }

# What the libraries were built with, a program needs too: sanitizers.
cc=$(cached CMAKE_C_COMPILER)
flags="$(cached CMAKE_C_FLAGS) -O1"
[ "$(cached DRAWTUBE_SANITIZE)" = ON ] && flags="$flags -fsanitize=address,undefined -fno-sanitize-recover=all"
strict="-std=c11 -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wstrict-prototypes -Werror"

cmake --install "$build" --component library --prefix "$work/prefix" >"$work/install.log" 2>&1 ||
    { cat "$work/install.log"; exit 1; }
pc=$(dirname "$(find "$work/prefix" -name drawtube.pc)")
lib=$(dirname "$(find "$work/prefix" -name libdrawtube.so)")
export PKG_CONFIG_PATH="$pc"

# ---- headers: whole by themselves, in C and C++; nothing of the rooms is installed
(cd "$source/include" && ls drawtube/*.h) >"$work/wanted"
(cd "$work/prefix/include" && find . -type f | sed 's|^\./||' | sort) >"$work/installed"
cmp -s "$work/wanted" "$work/installed" || bad "installed headers are not those of include/drawtube"
while read -r header; do
    echo "#include <$header>" >"$work/alone.c"
    # shellcheck disable=SC2086
    "$cc" $strict -I"$work/prefix/include" -fsyntax-only "$work/alone.c" || bad "$header: not whole in C"
    if command -v c++ >/dev/null; then
        c++ -x c++ -std=c++11 -Wall -Wextra -Wpedantic -Werror -I"$work/prefix/include" -fsyntax-only \
            "$work/alone.c" || bad "$header: not whole in C++"
    fi
done <"$work/wanted"

# ---- symbols: each library has what its headers declare and nothing else, and needs no more than it says
declared() { # functions that headers declare
    cat "$@" | tr '\n' ' ' | grep -oE 'DT_API [^;(#]*[ *]dt_[a-z0-9_]+\(' | sed 's/.*[ *]\(dt_[a-z0-9_]*\)($/\1/' | sort
}
holds() { # holds LIBRARY UNWANTED HEADERS...
    name=$1 unwanted=$2
    shift 2
    (cd "$source/include/drawtube" && declared "$@") >"$work/declared"
    [ -s "$work/declared" ] || bad "lib$name: its headers declare nothing"
    nm -D --defined-only "$lib/lib$name.so" | awk '{print $NF}' | sort >"$work/shared"
    nm --defined-only --extern-only "$lib/lib$name.a" | awk 'NF == 3 {print $3}' | sort >"$work/static"
    for kind in shared static; do
        diff "$work/declared" "$work/$kind" || bad "lib$name, $kind: what it offers (>) is not what headers declare (<)"
    done
    readelf -d "$lib/lib$name.so" | grep NEEDED | grep -E "$unwanted" && bad "lib$name needs what it should not"
    readelf -d "$lib/lib$name.so" | grep SONAME | grep -q "lib$name.so.$version" || bad "lib$name: its name has no release"
}
version=$(pkg-config --modversion drawtube)
[ "drawtube $version" = "$("$drawtube" --version)" ] || bad "the command is not of release $version"
holds drawtube 'jansson|cairo|rsvg|gvc|cgraph|zip' base.h well.h program.h questions.h
holds drawtube-render 'cairo|rsvg|gvc|cgraph' draw.h
holds drawtube-graph 'jansson|cairo|rsvg' graph.h
holds drawtube-picture 'jansson|gvc|cgraph|zip' picture.h
holds drawtube-docx 'jansson|gvc|cgraph' docx.h

# ---- built and run
draws() { # draws PROGRAM WELLS...
    program=$1
    shift
    for well in "$@"; do
        code=0 expected=0
        "$program" "$well" "$work/program.svg" >"$work/out" 2>"$work/err" || code=$?
        "$drawtube" draw "$well" -o "$work/command.svg" 2>"$work/command.err" || expected=$?
        [ "$code" = "$expected" ] || { bad "$program $well: exit $code, the command's $expected"; cat "$work/err"; continue; }
        [ "$code" = 0 ] || continue
        cmp "$work/program.svg" "$work/command.svg" || bad "$program: draws $well otherwise than the command"
        strings=$(grep -c '^[0-9-]*\(/[0-9]*\)\? in ' "$work/out")
        grep -q "^$strings strings, " "$work/out" || bad "$program $well: $strings strings shown, and: $(grep 'strings,' "$work/out")"
        grep -q '^    to .* of ' "$work/out" || bad "$program $well: no section with a factor"
    done
}
sample=$source/docs/samples/embed.c
# shellcheck disable=SC2046,SC2086
"$cc" $strict $flags "$sample" -o "$work/shared-program" $(pkg-config --cflags --libs drawtube-render) \
    "-Wl,-rpath,$lib" || bad "does not build with pkg-config"
draws "$work/shared-program" "$source"/wells/*.xml
printf '<well xmlns="urn:drawtube:well:1">' >"$work/broken.xml"
draws "$work/shared-program" "$work/broken.xml" "$work/none.xml"
"$work/shared-program" "$work/broken.xml" "$work/none.svg" 2>&1 | grep -q 'broken.xml:1: error DT-' ||
    bad "a broken file gets no finding with its line"
[ ! -e "$work/none.svg" ] || bad "a refused well leaves a drawing behind"

# The whole command from the installed headers and libraries: it sees no others, and all that it writes
# comes out as from the one that has every room once.
# shellcheck disable=SC2046,SC2086
"$cc" -std=c11 -D_POSIX_C_SOURCE=200809L -DDRAWTUBE_VERSION="\"$version\"" $flags "$source"/planner/cli/*.c \
    -I"$source/planner/cli" -o "$work/linked" \
    $(pkg-config --cflags --libs drawtube-docx drawtube-picture drawtube-graph drawtube-render libxml-2.0) \
    "-Wl,-rpath,$lib" || bad "the command does not build from the installed libraries"
writes() { # writes PROGRAM FOLDER
    mkdir "$2"
    for well in brackwater-deep thornback-rise; do
        "$1" plan "$source/wells/$well.xml" -o "$2/$well" >"$2/$well.txt" || bad "$1 plan $well: exit $?"
        "$1" why "$source/wells/$well.xml" >"$2/$well.why" || bad "$1 why $well: exit $?"
    done
    "$1" why "$source/wells/thornback-rise.xml" --without "string 3" >"$2/without" || echo "exit $?" >>"$2/without"
    "$1" odds "$source/wells/brackwater-deep.xml" --samples 200 --threads 2 -o "$2/odds.svg" >"$2/odds" || bad "$1 odds"
    "$1" compare "$source/wells/mizzenlow-shelf.xml" -o "$2/compare" >"$2/options" || bad "$1 compare"
    "$1" rate --od 7 --weight 29 --grade P110 --tension 300 --json >"$2/rate" || bad "$1 rate"
    "$1" import "$source/docs/samples/survey.csv" --survey >"$2/import" 2>/dev/null || bad "$1 import"
}
writes "$work/linked" "$work/by-libraries"
writes "$drawtube" "$work/by-command"
[ "$(find "$work/by-command" -type f | wc -l)" -gt 40 ] || bad "the command writes too little to compare"
diff -r "$work/by-command" "$work/by-libraries" || bad "the libraries write otherwise than the command"

# The archives alone: only the system's libraries are still shared.
mkdir "$work/archives"
cp -R "$work/prefix/." "$work/archives/"
find "$work/archives" -name '*.so*' -delete
one=$(ls "$source"/wells/*.xml | head -1)
(
    export PKG_CONFIG_PATH="$work/archives${pc#"$work/prefix"}"
    for order in "drawtube-render drawtube" "drawtube drawtube-render"; do
        # shellcheck disable=SC2046,SC2086
        "$cc" $strict $flags "$sample" -o "$work/static-program" $(pkg-config --static --cflags --libs $order) || exit 1
    done
) || bad "does not build with pkg-config --static"
ldd "$work/static-program" | grep libdrawtube && bad "the static program asks for libdrawtube"
draws "$work/static-program" "$one"

# With CMake: the shared and the static libraries.
mkdir "$work/project"
cat >"$work/project/CMakeLists.txt" <<'END'
cmake_minimum_required(VERSION 3.16)
project(embed LANGUAGES C)
find_package(drawtube 0.1 REQUIRED)
add_executable(with-shared ${SAMPLE})
target_link_libraries(with-shared PRIVATE drawtube::render)
add_executable(with-static ${SAMPLE})
target_link_libraries(with-static PRIVATE drawtube::render-static)
END
if cmake -S "$work/project" -B "$work/project/build" -DSAMPLE="$sample" -DCMAKE_PREFIX_PATH="$work/prefix" \
    -DCMAKE_C_COMPILER="$cc" -DCMAKE_C_FLAGS="$flags" >"$work/cmake.log" 2>&1 &&
    cmake --build "$work/project/build" >>"$work/cmake.log" 2>&1; then
    draws "$work/project/build/with-shared" "$one"
    draws "$work/project/build/with-static" "$one"
    ldd "$work/project/build/with-static" | grep libdrawtube && bad "drawtube::render-static is not static"
else
    cat "$work/cmake.log"
    bad "does not build with find_package"
fi

# ---- docs/library.md names every function, and no other
page=$source/docs/library.md
(cd "$source/include/drawtube" && declared ./*.h) >"$work/declared"
while read -r name; do
    grep -q "\`$name" "$page" || bad "docs/library.md does not name $name"
done <"$work/declared"
grep -oE '\bdt_[a-z0-9_]+\(' "$page" | tr -d '(' | sort -u | while read -r name; do
    grep -qx "$name" "$work/declared" || echo "docs/library.md names $name(), which no header declares"
done | grep . && fail=1
exit $fail
