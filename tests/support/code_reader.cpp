// SPDX-License-Identifier: MIT
#define ZX_USE_UTF8 1
#include "tests/support/code_reader.h"

#include <ZXing/ReadBarcode.h>

namespace touchmark::test {

Reading read_code(const Picture& picture) {
    const ZXing::ImageView view(picture.pixels.data(), picture.width, picture.height, ZXing::ImageFormat::Lum);
    const ZXing::Result result = ZXing::ReadBarcode(view, ZXing::DecodeHints().setTryHarder(true));
    if (!result.isValid()) return {};
    Reading reading;
    reading.text = result.text();
    reading.format = ZXing::ToString(result.format());
    reading.level = result.ecLevel();
    reading.gs1 = result.contentType() == ZXing::ContentType::GS1;
    reading.mirrored = result.isMirrored();
    return reading;
}

} // namespace touchmark::test
