// SPDX-License-Identifier: MIT
#define ZX_USE_UTF8 1
#include "core/print/code_reading.h"

#include <ZXing/ReadBarcode.h>

#include <algorithm>
#include <cmath>

namespace touchmark::print {
namespace {

constexpr double pixels_a_module = 12;
constexpr double most_pixels = 1600; // of a side: beyond, modules become smaller

ZXing::BarcodeFormat format_of(content::Symbology symbology) {
    using enum content::Symbology;
    switch (symbology) {
    case data_matrix:
    case gs1_data_matrix:
        return ZXing::BarcodeFormat::DataMatrix;
    case qr:
    case gs1_qr:
        return ZXing::BarcodeFormat::QRCode;
    case code_128:
    case gs1_128:
        return ZXing::BarcodeFormat::Code128;
    case micro_qr:
        break;
    }
    return ZXing::BarcodeFormat::None;
}

std::string without_separators(std::string text) {
    std::erase(text, '\x1d');
    return text;
}

std::vector<std::uint8_t> greys(const Brightness& picture, double white, bool inverted) {
    std::vector<std::uint8_t> out;
    out.reserve(picture.values.size());
    for (const float value : picture.values) {
        const auto level = static_cast<std::uint8_t>(std::lround(255 * std::clamp(value / white, 0.0, 1.0)));
        out.push_back(inverted ? static_cast<std::uint8_t>(255 - level) : level);
    }
    return out;
}

/// Every `step`-th pixel's block as one.
Brightness coarser(const Brightness& picture, double step) {
    Brightness out{static_cast<int>(picture.width / step), static_cast<int>(picture.height / step), {}};
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x) {
            float sum = 0;
            int count = 0;
            for (int j = static_cast<int>(y * step); j < static_cast<int>((y + 1) * step); ++j)
                for (int i = static_cast<int>(x * step); i < static_cast<int>((x + 1) * step); ++i)
                    sum += picture.at(i, j), ++count;
            out.values.push_back(count ? sum / static_cast<float>(count) : 0);
        }
    return out;
}

/// As a lens sees it from further off: each pixel is the mean about it, by a Gaussian half a pixel wide.
Brightness from_afar(const Brightness& picture, int step) {
    std::vector<float> weights;
    for (int i = 0; i < 3 * step; ++i) {
        const double off = (i + 0.5 - 1.5 * step) / step; // in pixels of the result
        weights.push_back(static_cast<float>(std::exp(-2 * off * off)));
    }
    const auto mean = [&](int last, int at, const auto& value) {
        float sum = 0, weight = 0;
        for (int i = 0; i < 3 * step; ++i) {
            const int from = (at - 1) * step + i;
            if (from < 0 || from >= last) continue;
            sum += weights[static_cast<std::size_t>(i)] * value(from);
            weight += weights[static_cast<std::size_t>(i)];
        }
        return sum / weight;
    };
    Brightness narrow{picture.width / step, picture.height, {}}, out{picture.width / step, picture.height / step, {}};
    for (int y = 0; y < narrow.height; ++y)
        for (int x = 0; x < narrow.width; ++x)
            narrow.values.push_back(mean(picture.width, x, [&](int from) { return picture.at(from, y); }));
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x)
            out.values.push_back(mean(narrow.height, y, [&](int from) { return narrow.at(x, from); }));
    return out;
}

Brightness without_rim(const Brightness& picture, int rim) {
    Brightness out{picture.width - 2 * rim, picture.height - 2 * rim, {}};
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x)
            out.values.push_back(picture.at(x + rim, y + rim));
    return out;
}

/// What a camera that is exposed for the face shows as white.
double white_of(Lighting lighting) {
    return is_even(lighting) && lighting != Lighting::low_ring ? 1.0 : 1.6;
}

/// What a camera adds to each pixel: as likely more as less, always the same for the same picture.
Brightness noisy(Brightness picture) {
    constexpr float most = 0.03F; // of the face's brightness: a spread of about 0.017, more than a camera by day has
    std::uint32_t state = 2463534242U; // xorshift (G. Marsaglia, "Xorshift RNGs", 2003)
    for (float& value : picture.values) {
        state ^= state << 13U;
        state ^= state >> 17U;
        state ^= state << 5U;
        value += most * (2 * static_cast<float>(state >> 8U) / static_cast<float>(1U << 24U) - 1);
    }
    return picture;
}

void attempt(const Brightness& picture, const content::Code& code, const std::string& wanted, CodeTry& out) {
    const auto look = [&](const Brightness& seen) {
        const std::string text = decoded(noisy(seen), code.symbology, white_of(out.lighting));
        ++out.pictures;
        out.right += text == wanted;
        if (!text.empty() && text != wanted) out.instead = text;
    };
    if (content::is_grooved(code)) {
        for (const int step : {3, 4, 5, 6})
            look(from_afar(picture, step));
        for (const double step : {3.5, 4.2, 4.5, 5.2})
            look(coarser(picture, step));
        return;
    }
    for (const double step : {1.0, 1.1, 1.5, 2.0, 2.4, 3.0})
        look(step > 1 ? coarser(picture, step) : picture);
}

} // namespace

bool CodeReading::read_in_any() const {
    return tries.empty() || std::ranges::any_of(tries, [](const CodeTry& one) { return one.right > 0; });
}

bool CodeReading::read_in_even_light() const {
    return std::ranges::all_of(tries, [](const CodeTry& one) { return one.read() || !is_even(one.lighting); });
}

std::string decoded_form(const content::Code& code) {
    if (!content::row_of(code.symbology).gs1) return without_separators(code.message);
    std::string out;
    std::ranges::copy_if(code.message, std::back_inserter(out),
                         [](char c) { return c != '[' && c != ']' && c != '(' && c != ')'; });
    return out;
}

std::string decoded(const Brightness& picture, content::Symbology symbology, double white) {
    const ZXing::BarcodeFormat format = format_of(symbology);
    for (const bool inverted : {false, true}) {
        const std::vector<std::uint8_t> pixels = greys(picture, white, inverted);
        const ZXing::ImageView view(pixels.data(), picture.width, picture.height, ZXing::ImageFormat::Lum);
        for (const auto binarizer : {ZXing::Binarizer::LocalAverage, ZXing::Binarizer::GlobalHistogram}) {
            const auto hints = ZXing::DecodeHints().setFormats(format).setTryHarder(true).setBinarizer(binarizer);
            const ZXing::Result result = ZXing::ReadBarcode(view, hints);
            if (result.isValid() && !result.isMirrored()) return without_separators(result.text());
        }
    }
    return {};
}

Result<CodeReading> read_code(const Printed& printed, Mode mode, const LightThrough* light, const content::Code& code,
                              const Box2& box, const Progress& progress) {
    CodeReading out;
    if (format_of(code.symbology) == ZXing::BarcodeFormat::None) return out;
    constexpr double rim = 1; // mm
    const double pixels_a_mm =
        std::min(pixels_a_module / code.module.value, most_pixels / (std::max(box.width(), box.height()) + 2 * rim));
    const int rim_pixels = std::max(1, static_cast<int>(std::lround(rim * pixels_a_mm)));
    const Vec2 more = Vec2{1, 1} * (rim_pixels / pixels_a_mm);
    const std::string wanted = decoded_form(code);
    Appearance looks(printed, light, {box.low - more, box.high + more}, pixels_a_mm);
    for (const Lighting lighting : lightings(mode)) {
        const auto picture = looks.in(lighting, progress);
        if (!picture) return std::unexpected(picture.error());
        CodeTry& one = out.tries.emplace_back(CodeTry{lighting, 0, 0, {}});
        attempt(*picture, code, wanted, one);
        attempt(without_rim(*picture, rim_pixels), code, wanted, one);
        if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
    }
    return out;
}

} // namespace touchmark::print
