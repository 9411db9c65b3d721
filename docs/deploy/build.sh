#!/bin/sh
# build.sh FOLDER SOURCE: installs the program with its fixed versions into FOLDER and collects its static files there.
# The container file runs it, and so does `make container` on a machine without containers.
set -eu
folder=$1
source=$2
"${PYTHON:-python3}" -m venv "$folder"
"$folder/bin/python" -m pip install --quiet --disable-pip-version-check --no-compile --constraint "$source/constraints.txt" "$source"
cd "$folder"
# --no-input: nobody is there to answer; a key is not needed to collect files
STANCEBOOK_VAR="$folder/var" STANCEBOOK_STATIC="$folder/static" DJANGO_SETTINGS_MODULE=config.settings \
    "$folder/bin/python" -m django collectstatic --no-input --verbosity 0
rm -rf "$folder/var"
