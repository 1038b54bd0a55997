// SPDX-License-Identifier: MIT
#include "core/content/fonts.h"

#include "core/content/comma_list.h"

#include "core/content/loaded_face.h"

#include <fontconfig/fontconfig.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <tuple>

namespace touchmark::content {

namespace {

/// Of a variable font; instances of one file share them.
using FileKey = std::pair<std::string, int>; ///< path, index within a collection

FileKey file_of(const FontFace& face) {
    return {face.file.string(), face.index & 0xffff};
}

} // namespace

struct FontLibrary::Impl {
    using LoadedKey = std::tuple<std::string, int, std::string>; ///< path, index, settings
    std::vector<std::string> families;
    std::map<std::string, std::vector<FontFace>, std::less<>> faces; ///< by family
    std::map<FileKey, std::vector<Axis>> axes;
    mutable std::mutex mutex;
    mutable std::map<LoadedKey, std::shared_ptr<const LoadedFace>> loaded;

    [[nodiscard]] std::span<const Axis> axes_of(const FontFace& face) const {
        const auto found = axes.find(file_of(face));
        return found == axes.end() ? std::span<const Axis>() : found->second;
    }
};

namespace {

template <auto Destroy> struct Destroyer {
    template <class T> void operator()(T* object) const { Destroy(object); }
};
using Config = std::unique_ptr<FcConfig, Destroyer<FcConfigDestroy>>;
using Pattern = std::unique_ptr<FcPattern, Destroyer<FcPatternDestroy>>;
using ObjectSet = std::unique_ptr<FcObjectSet, Destroyer<FcObjectSetDestroy>>;
using FontSet = std::unique_ptr<FcFontSet, Destroyer<FcFontSetDestroy>>;

std::string text_of(const FcPattern* pattern, const char* key, int n = 0) {
    FcChar8* value = nullptr;
    if (FcPatternGetString(pattern, key, n, &value) != FcResultMatch) return {};
    return reinterpret_cast<const char*>(value);
}

int number_of(const FcPattern* pattern, const char* key, int otherwise) {
    int value = otherwise;
    return FcPatternGetInteger(pattern, key, 0, &value) == FcResultMatch ? value : otherwise;
}

bool is_variable(const FcPattern* pattern) {
    FcBool variable = FcFalse;
    FcPatternGetBool(pattern, FC_VARIABLE, 0, &variable);
    return variable != FcFalse;
}

/// nullopt for what cannot be a mark: bitmaps, Type 1 and the like.
std::optional<FontFace> face_from(const FcPattern* pattern) {
    FcBool outline = FcFalse;
    FcPatternGetBool(pattern, FC_OUTLINE, 0, &outline);
    const std::string format = text_of(pattern, FC_FONTFORMAT);
    if (!outline || (format != "TrueType" && format != "CFF")) return std::nullopt;
    double weight = FC_WEIGHT_REGULAR;
    FcPatternGetDouble(pattern, FC_WEIGHT, 0, &weight);
    FontFace face;
    face.style = text_of(pattern, FC_STYLE);
    face.weight = static_cast<int>(std::lround(FcWeightToOpenTypeDouble(weight)));
    face.width = number_of(pattern, FC_WIDTH, FC_WIDTH_NORMAL);
    face.italic = number_of(pattern, FC_SLANT, FC_SLANT_ROMAN) != FC_SLANT_ROMAN;
    face.file = text_of(pattern, FC_FILE);
    face.index = number_of(pattern, FC_INDEX, 0);
    return face;
}

std::string folded(std::string_view text) {
    std::string out(text);
    std::ranges::transform(out, out.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return out;
}

/// Levenshtein's distance.
std::size_t edits_between(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = std::exchange(row[0], i);
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t replaced = diagonal + (a[i - 1] != b[j - 1]);
            diagonal = row[j];
            row[j] = std::min({row[j] + 1, row[j - 1] + 1, replaced});
        }
    }
    return row.back();
}

/// How badly a face answers a wish: upright first, then normal width, then weight, then what is no instance.
std::tuple<bool, int, int, bool> distance_from(const FontFace& face, int weight) {
    return {face.italic, std::abs(face.width - FC_WIDTH_NORMAL), std::abs(face.weight - weight), face.index > 0xffff};
}

/// The whole of a variable font, at its standard place, where fontconfig lists no instance of it.
FontFace standing_for(FontFace whole, std::span<const Axis> axes) {
    whole.index &= 0xffff;
    whole.style = "Variable";
    for (const Axis& axis : axes)
        if (axis.tag == "wght") whole.weight = static_cast<int>(std::lround(axis.standard));
    return whole;
}

const Axis* axis_in(std::span<const Axis> axes, std::string_view tag) {
    const auto found = std::ranges::find(axes, tag, &Axis::tag);
    return found == axes.end() ? nullptr : &*found;
}

/// Two decimals at most, with a point whatever the locale: it goes into the job.
std::string figure(double value) {
    std::array<char, 400> digits{};
    const auto end = std::to_chars(digits.begin(), digits.end(), value, std::chars_format::fixed, 2).ptr;
    std::string text(digits.begin(), end);
    while (text.ends_with('0'))
        text.pop_back();
    if (text.ends_with('.')) text.pop_back();
    return text;
}

/// Checked against what the family offers.
Status check_settings(std::string_view family, std::span<const Axis> axes, std::span<const AxisSetting> settings) {
    for (const AxisSetting& setting : settings) {
        const Axis* axis = axis_in(axes, setting.tag);
        if (!axis) {
            std::string has;
            for (const Axis& one : axes)
                has += (has.empty() ? "It can be set by " : ", ") + one.tag;
            return fail("font.axis", "The font \"" + std::string(family) + "\" has no axis " + setting.tag + ".",
                        has.empty() ? "Its faces are fixed; choose a variable font." : has + ".");
        }
        if (!(setting.value >= axis->least && setting.value <= axis->most))
            return fail("font.axis",
                        axis->name + " (" + axis->tag + ") of \"" + std::string(family) + "\" runs from " +
                            figure(axis->least) + " to " + figure(axis->most) + ", not to " + figure(setting.value) +
                            ".",
                        "Enter a value within its range.");
    }
    return {};
}

} // namespace

Result<std::vector<AxisSetting>> axis_settings(std::string_view list) {
    std::vector<AxisSetting> settings;
    const std::vector<std::string> entries = entries_of(list);
    for (const std::string& one : entries) {
        hb_variation_t variation{};
        if (one.find('=') != 4 || !hb_variation_from_string(one.data(), static_cast<int>(one.size()), &variation) ||
            !std::isfinite(variation.value))
            return fail("font.axis", "\"" + one + "\" does not set an axis of a font.",
                        "Write its four letters and a number, for instance wdth=85.");
        const std::string tag = one.substr(0, 4);
        const auto known = std::ranges::find(settings, tag, &AxisSetting::tag);
        if (known != settings.end())
            known->value = static_cast<double>(variation.value);
        else
            settings.push_back({tag, static_cast<double>(variation.value)});
    }
    return settings;
}

std::string text_of(std::span<const AxisSetting> settings) {
    std::string text;
    for (const AxisSetting& setting : settings)
        text += (text.empty() ? "" : ", ") + setting.tag + "=" + figure(setting.value);
    return text;
}

FontLibrary::FontLibrary(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
FontLibrary::~FontLibrary() = default;

Result<std::shared_ptr<const FontLibrary>> FontLibrary::system() {
    const Config config(FcInitLoadConfigAndFonts());
    const Pattern every(FcPatternCreate());
    const ObjectSet wanted(FcObjectSetBuild(FC_FAMILY, FC_STYLE, FC_WEIGHT, FC_WIDTH, FC_SLANT, FC_OUTLINE, FC_VARIABLE,
                                            FC_FONTFORMAT, FC_FILE, FC_INDEX, nullptr));
    const FontSet found(config ? FcFontList(config.get(), every.get(), wanted.get()) : nullptr);
    auto impl = std::make_unique<Impl>();
    std::set<FileKey> with_instances;
    for (int i = 0; found && i < found->nfont; ++i)
        if (const auto face = face_from(found->fonts[i]); face && !is_variable(found->fonts[i]) && face->index > 0xffff)
            with_instances.insert(file_of(*face));
    for (int i = 0; found && i < found->nfont; ++i) {
        auto face = face_from(found->fonts[i]);
        if (!face) continue;
        if (is_variable(found->fonts[i])) {
            auto& axes = impl->axes[file_of(*face)];
            if (axes.empty()) axes = LoadedFace::axes(*face);
            if (with_instances.contains(file_of(*face))) continue;
            face = standing_for(*face, axes);
        }
        // A condensed cut is listed under the family it belongs to and under a name of its own.
        for (int n = 0;; ++n) {
            face->family = text_of(found->fonts[i], FC_FAMILY, n);
            if (face->family.empty()) break;
            auto& faces = impl->faces[face->family];
            if (std::ranges::find(faces, *face) == faces.end()) faces.push_back(*face);
        }
    }
    if (impl->faces.empty())
        return fail("font.none", "No usable font is installed on this machine.",
                    "Install a font, for example the package fonts-dejavu-core.");
    for (auto& [family, faces] : impl->faces) {
        impl->families.push_back(family);
        std::ranges::sort(faces, {}, [](const FontFace& face) {
            return std::tuple(face.italic, std::abs(face.width - FC_WIDTH_NORMAL), face.weight, face.style, face.file);
        });
    }
    std::ranges::sort(impl->families, {}, folded);
    return std::shared_ptr<const FontLibrary>(new FontLibrary(std::move(impl)));
}

const std::vector<std::string>& FontLibrary::families() const {
    return impl_->families;
}

std::vector<FontFace> FontLibrary::faces(std::string_view family) const {
    if (const auto found = impl_->faces.find(family); found != impl_->faces.end()) return found->second;
    const std::string wanted = folded(family);
    for (const auto& [name, faces] : impl_->faces)
        if (folded(name) == wanted) return faces;
    return {};
}

std::vector<Axis> FontLibrary::axes(std::string_view family) const {
    std::vector<Axis> all;
    for (const FontFace& face : faces(family))
        for (const Axis& axis : impl_->axes_of(face)) {
            const auto known = std::ranges::find(all, axis.tag, &Axis::tag);
            if (known == all.end() && !face.italic) all.push_back(axis);
        }
    std::ranges::stable_partition(all, [](const Axis& axis) { return axis.tag == "wght"; });
    return all;
}

Result<FontFace> FontLibrary::find(std::string_view family, int given_weight,
                                   std::span<const AxisSetting> settings) const {
    std::vector<FontFace> candidates = faces(family);
    if (candidates.empty()) {
        const std::string wanted = folded(family);
        const auto nearest = std::ranges::min_element(
            impl_->families, {}, [&](const std::string& name) { return edits_between(wanted, folded(name)); });
        return fail("font.not_found", "There is no font \"" + std::string(family) + "\" on this machine.",
                    "The nearest name is \"" + *nearest + "\".");
    }
    if (const Status good = check_settings(family, axes(family), settings); !good) return std::unexpected(good.error());
    double weight = given_weight;
    for (const AxisSetting& setting : settings)
        if (setting.tag == "wght") weight = setting.value;
    const auto lacks = [&](const FontFace& face, const AxisSetting& setting) {
        return !axis_in(impl_->axes_of(face), setting.tag);
    };
    std::erase_if(candidates, [&](const FontFace& face) {
        return std::ranges::any_of(settings, [&](const AxisSetting& setting) { return lacks(face, setting); });
    });
    const auto whole = static_cast<int>(std::lround(weight));
    const auto near = [&](const FontFace& face) { return distance_from(face, whole); };
    if (candidates.empty())
        return fail("font.axis", "No face of \"" + std::string(family) + "\" has all of these axes.",
                    "Set fewer of them.");
    FontFace best = *std::ranges::min_element(candidates, {}, near);
    if (best.weight == whole && settings.empty()) return best;
    std::erase_if(candidates, [&](const FontFace& face) { return lacks(face, {"wght", 0}); });
    if (!candidates.empty()) {
        FontFace variable = *std::ranges::min_element(candidates, {}, near);
        const Axis& axis = *axis_in(impl_->axes_of(variable), "wght");
        const double met = std::clamp(weight, axis.least, axis.most);
        const bool nearer = variable.italic == best.italic && std::abs(met - weight) < std::abs(best.weight - weight);
        if (nearer) {
            variable.weight = static_cast<int>(std::lround(met));
            variable.style = "Weight " + figure(met);
            variable.settings.push_back({"wght", met});
            best = std::move(variable);
        }
    }
    for (const AxisSetting& setting : settings)
        if (setting.tag != "wght") best.settings.push_back(setting);
    return best;
}

Result<std::shared_ptr<const LoadedFace>> loaded(const FontLibrary& fonts, const FontFace& face) {
    constexpr std::size_t most_set = 64; // faces of variable fonts at places of their own, as a weight is dragged
    const auto& impl = fonts.impl();
    const std::scoped_lock lock(impl.mutex);
    const auto is_set = [](const auto& entry) { return !std::get<2>(entry.first).empty(); };
    if (!face.settings.empty() && std::ranges::count_if(impl.loaded, is_set) > static_cast<std::ptrdiff_t>(most_set))
        std::erase_if(impl.loaded, [&](const auto& entry) { return is_set(entry) && entry.second.use_count() == 1; });
    auto& slot = impl.loaded[{face.file.string(), face.index, text_of(face.settings)}];
    if (!slot) {
        auto fresh = LoadedFace::load(face);
        if (!fresh) return fresh;
        slot = *fresh;
    }
    return slot;
}

} // namespace touchmark::content
