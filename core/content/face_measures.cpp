// SPDX-License-Identifier: MIT
#include "core/content/face_measures.h"

#include "core/base/atomic_file.h"
#include "core/content/loaded_face.h"
#include "core/geometry/width.h"

#include <algorithm>
#include <cstdlib>
#include <limits>
#include <sstream>

namespace touchmark::content {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";
constexpr std::string_view first_line = "touchmark faces 1";
constexpr std::size_t largest_cache = 16u << 20;

std::unexpected<Error> no_letters() {
    return fail("font.no_letters", "The font has no capitals and figures to measure.");
}

/// No tab or line end in it, whatever the path.
std::string key_of(const FontFace& face) {
    std::error_code error;
    const auto size = fs::file_size(face.file, error);
    const auto changed = fs::last_write_time(face.file, error).time_since_epoch().count();
    std::string path = face.file.string();
    std::ranges::replace_if(path, [](char c) { return c == '\t' || c == '\n'; }, ' ');
    return path + "|" + std::to_string(face.index) + "|" + text_of(face.settings) + "|" + std::to_string(size) + "|" +
           std::to_string(changed);
}

} // namespace

Result<FaceMeasure> measure(const FontFace& face, const Progress& progress) {
    const auto loaded = LoadedFace::load(face);
    if (!loaded) return std::unexpected(loaded.error());
    FaceMeasure result{std::numeric_limits<double>::max(), std::numeric_limits<double>::max(), 0};
    for (const char letter : letters) {
        if (progress.cancelled()) return fail(std::string(cancelled_code), "");
        const auto index = (*loaded)->nominal(static_cast<unsigned char>(letter));
        if (!index) return no_letters();
        const auto glyph = (*loaded)->glyph(*index);
        if (!glyph || (*glyph)->empty()) return no_letters();
        const geometry::Widths widths = geometry::widths(**glyph);
        constexpr double unit = LoadedFace::reference_cap_height;
        if (!widths.strokes.empty()) result.stroke = std::min(result.stroke, widths.strokes.front().width / unit);
        if (!widths.gaps.empty()) result.gap = std::min(result.gap, widths.gaps.front().width / unit);
        for (const geometry::Region& region : (*glyph)->regions)
            result.islands += static_cast<int>(region.holes.size());
    }
    if (!(result.stroke < 10)) return no_letters();
    return result;
}

double least_cap_height(const FaceMeasure& measure, double stroke_mm, double gap_mm) {
    return std::max(stroke_mm / measure.stroke, gap_mm / measure.gap);
}

FaceMeasures::FaceMeasures(fs::path cache) : cache_(std::move(cache)) {
    const auto text = cache_.empty() ? Result<std::string>(std::string()) : read_text(cache_, largest_cache);
    std::istringstream lines(text.value_or(""));
    std::string line;
    if (!std::getline(lines, line) || line != first_line) return;
    while (std::getline(lines, line)) {
        const auto tab = line.find('\t');
        if (tab == line.npos) continue;
        std::istringstream figures(line.substr(tab + 1));
        figures.imbue(std::locale::classic());
        FaceMeasure one;
        if (figures >> one.stroke >> one.gap >> one.islands && one.stroke >= 0 && one.gap >= 0)
            measures_[line.substr(0, tab)] = one.stroke > 0 ? std::optional(one) : std::nullopt;
    }
}

std::optional<Result<FaceMeasure>> FaceMeasures::known(const FontFace& face) const {
    const std::string key = key_of(face);
    const std::scoped_lock lock(mutex_);
    const auto found = measures_.find(key);
    if (found == measures_.end()) return std::nullopt;
    return found->second ? Result<FaceMeasure>(*found->second) : Result<FaceMeasure>(no_letters());
}

Result<FaceMeasure> FaceMeasures::of(const FontFace& face, const Progress& progress) {
    if (auto before = known(face)) return *std::move(before);
    auto fresh = measure(face, progress);
    if (!fresh && fresh.error().code == cancelled_code) return fresh;
    const std::scoped_lock lock(mutex_);
    measures_[key_of(face)] = fresh ? std::optional(*fresh) : std::nullopt;
    return fresh;
}

Status FaceMeasures::save() const {
    if (cache_.empty()) return {};
    std::ostringstream text;
    text.imbue(std::locale::classic());
    text.precision(9);
    text << first_line << '\n';
    {
        const std::scoped_lock lock(mutex_);
        for (const auto& [key, one] : measures_)
            text << key << '\t' << (one ? one->stroke : 0) << ' ' << (one ? one->gap : 0) << ' '
                 << (one ? one->islands : 0) << '\n';
    }
    std::error_code error;
    fs::create_directories(cache_.parent_path(), error);
    return write_text_atomically(cache_, text.str());
}

fs::path face_measures_file() {
    const char *cache = std::getenv("XDG_CACHE_HOME"), *home = std::getenv("HOME");
    const fs::path base = cache && *cache == '/' ? fs::path(cache) : fs::path(home ? home : ".") / ".cache";
    return base / "touchmark" / "faces";
}

} // namespace touchmark::content
