// SPDX-License-Identifier: MIT
#include "core/fitting/items.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace touchmark::fitting {
namespace {

using content::Symbology;

// In widths of a line. Chosen so that with the figures that come along half of a series comes out, and still some do
// and some do not when a line spreads twice as much or not at all.
constexpr std::array stroke_grades{0.5, 0.7, 0.9, 1.1, 1.3, 1.5, 1.8, 2.2, 2.8};
constexpr std::array gap_grades{0.3, 0.45, 0.6, 0.75, 0.9, 1.1, 1.3, 1.6, 2.0};
constexpr std::array text_grades{4.0, 5.0, 6.0, 7.5, 9.0};
constexpr std::array matrix_grades{1.2, 1.6, 2.0, 2.4};
constexpr std::array qr_grades{1.2, 1.6};
constexpr std::array hidden_grades{2.0, 2.5, 3.0};
constexpr std::array step_layers{2, 3, 4, 6, 8, 12};

double rounded(double mm) {
    return std::round(mm * 100) / 100;
}

std::span<const double> grades_of(const Series& series) {
    switch (series.kind) {
    case Kind::stroke:
        return stroke_grades;
    case Kind::gap:
        return gap_grades;
    case Kind::text:
        return text_grades;
    case Kind::code:
        if (series.mode == Mode::hidden) return hidden_grades;
        return series.symbology == Symbology::qr ? std::span<const double>(qr_grades) : matrix_grades;
    case Kind::step:
        break;
    }
    return {};
}

} // namespace

std::span<const Series> all_series() {
    // No I and no O: they look like figures.
    static constexpr std::array table{
        Series{'A', Kind::stroke, Mode::engrave, Zone::side_wall, {}, "stroke cut into the front wall"},
        Series{'B', Kind::stroke, Mode::raise, Zone::side_wall, {}, "stroke raised on the front wall"},
        Series{'C', Kind::gap, Mode::raise, Zone::side_wall, {}, "gap between bars on the back wall"},
        Series{'D', Kind::text, Mode::engrave, Zone::side_wall, {}, "text cut into the back wall"},
        Series{'E', Kind::stroke, Mode::engrave, Zone::top, {}, "stroke cut into the top"},
        Series{'F', Kind::stroke, Mode::raise, Zone::top, {}, "stroke raised on the top"},
        Series{'G', Kind::gap, Mode::raise, Zone::top, {}, "gap between bars on the top"},
        Series{'H', Kind::text, Mode::engrave, Zone::top, {}, "text cut into the top"},
        Series{'J', Kind::code, Mode::engrave, Zone::top, Symbology::data_matrix, "Data Matrix cut into the top"},
        Series{'K', Kind::code, Mode::engrave, Zone::top, Symbology::qr, "QR code cut into the top"},
        Series{'L', Kind::stroke, Mode::engrave, Zone::bottom, {}, "stroke cut into the bottom"},
        Series{'M', Kind::code, Mode::hidden, Zone::top, Symbology::data_matrix,
               "Data Matrix hidden in the thin plate"},
        Series{'W', Kind::step, Mode::hidden, Zone::top, {}, "step of the wedge beside its thickness"},
    };
    return table;
}

const Series& series_of(const Item& item) {
    return *std::ranges::find(all_series(), item.name.front(), &Series::letter);
}

std::vector<Item> items_of(const process::Process& process) {
    std::vector<Item> out;
    const auto add = [&](const Series& series, int number, double size) {
        out.push_back({series.letter + std::to_string(number), series.kind, series.mode, series.zone, series.symbology,
                       rounded(size)});
    };
    for (const Series& series : all_series()) {
        int number = 0;
        for (const double grade : grades_of(series))
            add(series, ++number, grade * process.line_width_mm.value);
        if (series.kind != Kind::step) continue;
        for (const int layers : step_layers)
            add(series, ++number, layers_mm(process, layers));
    }
    return out;
}

double layers_mm(const process::Process& process, int layers) {
    return process.first_layer_mm.value + (layers - 1) * process.layer_height_mm.value;
}

double relief_mm(const process::Process& process, Zone zone) {
    const double layer = process.layer_height_mm.value;
    constexpr double lines = 1.2;
    const int layers = std::max(2, static_cast<int>(std::lround(lines * process.line_width_mm.value / layer)));
    return zone == Zone::bottom ? layers_mm(process, layers) : layers * layer;
}

double cover_mm(const process::Process& process) {
    return 3 * process.layer_height_mm.value;
}

double void_mm(const process::Process& process) {
    return 3 * process.layer_height_mm.value;
}

double bar_length_mm(const process::Process& process) {
    return rounded(8 * process.line_width_mm.value);
}

double bar_width_mm(const process::Process& process) {
    return rounded(3 * process.line_width_mm.value);
}

std::string short_number(double value) {
    const auto hundredths = std::lround(std::abs(value) * 100);
    std::string text = std::to_string(hundredths / 100);
    if (const auto rest = hundredths % 100; rest != 0) {
        text += '.' + std::to_string(rest / 10);
        if (rest % 10 != 0) text += std::to_string(rest % 10);
    }
    return (value < 0 && hundredths != 0 ? "-" : "") + text;
}

std::string fixed_number(double value, int decimals) {
    std::array<char, 64> buffer{};
    const auto end =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, decimals).ptr;
    return {buffer.data(), end};
}

} // namespace touchmark::fitting
