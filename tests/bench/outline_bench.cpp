// SPDX-License-Identifier: MIT
// Lettering becomes an outline: a paragraph of 200 characters, and stroke and gap widths of a 40-character mark; cold
// (letters never measured before) and warm (only their places are new).
#include "core/content/content.h"
#include "core/geometry/width.h"

#include <benchmark/benchmark.h>

namespace {

using namespace touchmark;

constexpr std::string_view forty = "SN 4711-0815 Rev. C  LOT 2026-48 NW-2207";
static_assert(forty.size() == 40);

std::string paragraph() {
    std::string text;
    for (int line = 0; line < 5; ++line)
        text += std::string(forty.substr(0, 39)) + '\n';
    return text;
}

const content::FontLibrary& fonts() {
    static const auto library = content::FontLibrary::system().value();
    return *library;
}

content::Text lettering(std::string text, double cap_height, int weight) {
    content::Text result;
    result.text = std::move(text);
    result.cap_height = Mm(cap_height);
    result.weight = weight;
    return result;
}

void draw_paragraph(benchmark::State& state) {
    const content::Text text = lettering(paragraph(), 5, static_cast<int>(state.range(0)));
    for (auto _ : state)
        benchmark::DoNotOptimize(content::draw(text, fonts()).value());
}

/// A face read for the first time: every glyph is normalised.
void draw_paragraph_with_fresh_fonts(benchmark::State& state) {
    const content::Text text = lettering(paragraph(), 5, 700);
    for (auto _ : state) {
        state.PauseTiming();
        const auto fresh = content::FontLibrary::system().value();
        state.ResumeTiming();
        benchmark::DoNotOptimize(content::draw(text, *fresh).value());
    }
}

/// Each time another size, so that nothing can be remembered.
void widths_of_new_letters(benchmark::State& state) {
    double size = 5;
    std::size_t places = 0;
    for (auto _ : state) {
        state.PauseTiming();
        size = size < 5.5 ? size + 1.23456e-5 : 5;
        const auto drawn = content::draw(lettering(std::string(forty), size, 700), fonts()).value();
        state.ResumeTiming();
        const auto found = geometry::widths(drawn.outline);
        places = found.strokes.size() + found.gaps.size();
    }
    state.counters["places"] = static_cast<double>(places);
}

void widths_of_the_same_letters(benchmark::State& state) {
    const auto drawn = content::draw(lettering(std::string(forty), 5, 700), fonts()).value();
    for (auto _ : state)
        benchmark::DoNotOptimize(geometry::widths(drawn.outline));
}

/// 2,953 bytes: the most that the largest QR code holds at the lowest level (ISO/IEC 18004).
void draw_the_largest_qr(benchmark::State& state) {
    const content::Code code{
        .symbology = content::Symbology::qr, .message = std::string(2953, 'q'), .level = content::CorrectionLevel::low};
    for (auto _ : state)
        benchmark::DoNotOptimize(content::draw(code, fonts()).value());
}

BENCHMARK(draw_the_largest_qr)->Unit(benchmark::kMillisecond);
BENCHMARK(draw_paragraph)->Arg(700)->Arg(400)->ArgName("weight")->Unit(benchmark::kMillisecond);
BENCHMARK(draw_paragraph_with_fresh_fonts)->Unit(benchmark::kMillisecond)->Iterations(5);
BENCHMARK(widths_of_new_letters)->Unit(benchmark::kMillisecond);
BENCHMARK(widths_of_the_same_letters)->Unit(benchmark::kMillisecond);

} // namespace

BENCHMARK_MAIN();
