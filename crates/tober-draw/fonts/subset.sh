#!/bin/sh
# Cuts the bundled fonts down to what the drawings can print. Debian packages
# fonts-roboto-unhinted and fonts-roboto-slab hold the sources; fonttools does the cutting:
#   pip install fonttools
set -eu
cd "$(dirname "$0")"
UNICODES='U+0020-007E,U+00A0-017F,U+0192,U+0218-021B,U+02C6-02DD,U+0391-03A9,U+03B1-03C9,U+0410-044F,U+2009,U+2010-2015,U+2018-201E,U+2020-2022,U+2026,U+202F,U+2030,U+2032,U+2033,U+2044,U+20AC,U+2190-2193,U+2212,U+2248,U+2260,U+2264,U+2265,U+FFFD'
LATIN='U+0020-007E,U+00A0-017F,U+2010-2015,U+2018-201E,U+2026,U+2032,U+2033,U+2212,U+FFFD'
for face in \
  /usr/share/fonts/truetype/roboto/unhinted/RobotoTTF/Roboto-Regular.ttf \
  /usr/share/fonts/truetype/roboto/unhinted/RobotoTTF/Roboto-Bold.ttf \
  /usr/share/fonts/opentype/roboto/slab/RobotoSlab-Bold.otf
do
  case "$face" in *Slab*) wanted="$LATIN" ;; *) wanted="$UNICODES" ;; esac
  pyftsubset "$face" --unicodes="$wanted" --layout-features='kern,tnum,lnum,mark,ccmp' \
    --no-hinting --desubroutinize --name-IDs='0,1,2,3,4,5,6,13,14' --notdef-outline \
    --output-file="$(basename "$face")"
done
