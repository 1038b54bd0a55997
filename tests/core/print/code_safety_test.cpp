// SPDX-License-Identifier: MIT
// What is called safe has to decode from the simulated print, and what does not decode must not be called safe. The
// decoder is ZXing-C++ (Debian package libzxing-dev); it is shown pictures that the verdict did not see: sharper, with
// more of the face about the code, and with a camera's noise.
#include "core/content/code.h"
#include "core/content/fonts.h"
#include "core/print/printed_mark.h"
#include "tests/core/print/bench_process.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <random>

namespace touchmark::print {
namespace {

struct Case {
    content::Symbology symbology;
    Mode mode;
    Zone zone;
    double module_mm, depth;
    std::string process, message;
    int grooves = 0;

    [[nodiscard]] std::string text() const {
        return std::string(content::row_of(symbology).key) + " " + std::string(key_of(mode)) + " " +
               std::string(key_of(zone)) + (grooves > 0 ? " of grooves " : " ") + std::to_string(module_mm) + " deep " +
               std::to_string(depth) + " " + process;
    }
};

content::Code code_of(const Case& one) {
    content::Code code;
    code.symbology = one.symbology;
    code.message = one.message;
    code.module = Mm(one.module_mm);
    code.bar_height = Mm(6);
    code.grooves = one.grooves;
    code.light_is_mark = one.mode == Mode::raise; // a raised mark shows light on dark
    return code;
}

std::vector<Case> cases() {
    using enum content::Symbology;
    std::vector<Case> out;
    int number = 4711;
    for (const auto symbology : {data_matrix, qr, code_128, gs1_data_matrix})
        for (const Mode mode : {Mode::engrave, Mode::raise, Mode::inlay, Mode::hidden})
            for (const Zone zone : {Zone::side_wall, Zone::top, Zone::bottom})
                for (const double module_mm : {0.3, 0.5, 0.7, 1.0})
                    for (const auto& [process, depth] :
                         {std::pair("fff-0.4", 0.5), {"fff-0.25", 0.5}, {"fff-0.4", 1.0}}) {
                        const std::string digits = std::to_string(++number);
                        out.push_back(
                            {symbology, mode, zone, module_mm, depth, process,
                             symbology == gs1_data_matrix ? "[01]09521234543213[21]" + digits : "NW-2207/" + digits});
                    }
    for (const auto symbology : {data_matrix, qr})
        for (const Zone zone : {Zone::side_wall, Zone::top})
            for (const double module_mm : {2.0, 2.5, 3.0})
                for (const double depth : {0.3, 0.5, 0.7})
                    out.push_back({symbology, Mode::engrave, zone, module_mm, depth, "fff-0.4",
                                   "NW-2207/" + std::to_string(++number), static_cast<int>(module_mm)});
    return out;
}

/// A camera's pixels take in the light of all that they cover.
Brightness blocks(const Brightness& picture, int side) {
    Brightness out{picture.width / side, picture.height / side, {}};
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x) {
            float sum = 0;
            for (int j = 0; j < side; ++j)
                for (int i = 0; i < side; ++i)
                    sum += picture.at(x * side + i, y * side + j);
            out.values.push_back(sum / static_cast<float>(side * side));
        }
    return out;
}

/// As a careful camera sees it; a code of grooves from so far off that they cannot be told apart.
bool decodes(const PrintedMark& mark, const content::Code& code, Box2 box, Lighting lighting) {
    const Vec2 more{0.8, 0.8};
    box = {box.low - more, box.high + more};
    const double pixels = std::min(11 / code.module.value, 1800 / std::max(box.width(), box.height()));
    Brightness seen =
        appearance(mark.printed, mark.light ? &*mark.light : nullptr, lighting, box, pixels, Progress()).value();
    if (code.grooves > 0) seen = blocks(seen, 4);
    std::mt19937 random(7);
    std::normal_distribution<float> noise(0, 0.01F);
    for (float& value : seen.values)
        value += noise(random);
    return decoded(seen, code.symbology, 1) == decoded_form(code);
}

struct Tally {
    int safe = 0, at_risk = 0, lost = 0, decoded = 0;
};

void judge(const Case& one, const content::FontLibrary& fonts, Tally& tally) {
    const content::Code code = code_of(one);
    const content::Drawn drawn = content::draw(code, fonts).value();
    const process::Process process = profile(one.process.c_str());
    PrintedMark mark;
    const Standing standing{.mode = one.mode, .zone = one.zone, .depth = Mm(one.depth)};
    auto printed = simulate(drawn.outline, standing, process, Progress());
    ASSERT_TRUE(printed) << one.text();
    mark.printed = *std::move(printed);
    const auto modules = content::marked_modules(code, drawn).value();
    mark.modules = count_modules(mark.printed, modules.grid, modules.size, modules.centre, modules.filled);
    mark.bearable_share = bearable_share(code.symbology, code.level);
    const Vec2 half{modules.grid.columns * modules.size.width / 2, modules.grid.rows * modules.size.height / 2};
    const Box2 box{modules.centre - half, modules.centre + half};
    if (one.mode == Mode::hidden)
        mark.light =
            light_through(mark.printed, Field(mark.printed.relief.grid, 3), 0.6, *process.printing, std::span(&box, 1));
    mark.reading =
        read_code(mark.printed, one.mode, mark.light ? &*mark.light : nullptr, code, box, Progress()).value();
    const bool read = decodes(mark, code, box, lightings(one.mode).front());
    const Verdict verdict = mark.code_verdict();
    tally.safe += verdict == Verdict::reads;
    tally.at_risk += verdict == Verdict::at_risk;
    tally.lost += verdict == Verdict::lost;
    tally.decoded += read;
    // Both lines of the promise at once: safe and not decoded is what must never be.
    EXPECT_FALSE(verdict == Verdict::reads && !read) << one.text() << " is called safe and does not decode";
}

TEST(CodeSafety, WhatIsCalledSafeDecodesAndWhatDoesNotIsCalledAtRisk) {
    const auto fonts = content::FontLibrary::system().value();
    const std::vector<Case> all = cases();
    ASSERT_GE(all.size(), 500U);
    const bool every = std::getenv("TOUCHMARK_LONG_RUN") != nullptr;
    const std::size_t step = every ? 1 : 47; // a prime that no factor of the cases shares
    Tally tally;
    for (std::size_t i = 0; i < all.size(); i += step)
        judge(all[i], *fonts, tally);
    RecordProperty("safe", tally.safe);
    RecordProperty("at_risk", tally.at_risk);
    RecordProperty("lost", tally.lost);
    RecordProperty("decoded", tally.decoded);
    EXPECT_GT(tally.safe, 0);
    EXPECT_GT(tally.at_risk + tally.lost, 0);
}

} // namespace
} // namespace touchmark::print
