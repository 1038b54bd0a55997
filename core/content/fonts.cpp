// SPDX-License-Identifier: MIT
#include "core/content/fonts.h"

#include "core/content/loaded_face.h"

#include <fontconfig/fontconfig.h>

#include <algorithm>
#include <cctype>
#include <map>
#include <numeric>

namespace touchmark::content {

struct FontLibrary::Impl {
    std::vector<std::string> families;
    std::map<std::string, std::vector<FontFace>, std::less<>> faces; ///< by family
    mutable std::mutex mutex;
    mutable std::map<std::pair<std::string, int>, std::shared_ptr<const LoadedFace>> loaded;
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

/// nullopt for what cannot be a mark: bitmaps, the unnamed whole of a variable font, Type 1 and the like.
std::optional<FontFace> face_from(const FcPattern* pattern) {
    FcBool outline = FcFalse, variable = FcFalse;
    FcPatternGetBool(pattern, FC_OUTLINE, 0, &outline);
    FcPatternGetBool(pattern, FC_VARIABLE, 0, &variable);
    const std::string format = text_of(pattern, FC_FONTFORMAT);
    if (!outline || variable || (format != "TrueType" && format != "CFF")) return std::nullopt;
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

/// How badly a face answers a wish: upright first, then normal width, then weight.
std::tuple<bool, int, int> distance_from(const FontFace& face, int weight) {
    return {face.italic, std::abs(face.width - FC_WIDTH_NORMAL), std::abs(face.weight - weight)};
}

} // namespace

FontLibrary::FontLibrary(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
FontLibrary::~FontLibrary() = default;

Result<std::shared_ptr<const FontLibrary>> FontLibrary::system() {
    const Config config(FcInitLoadConfigAndFonts());
    const Pattern every(FcPatternCreate());
    const ObjectSet wanted(FcObjectSetBuild(FC_FAMILY, FC_STYLE, FC_WEIGHT, FC_WIDTH, FC_SLANT, FC_OUTLINE, FC_VARIABLE,
                                            FC_FONTFORMAT, FC_FILE, FC_INDEX, nullptr));
    const FontSet found(config ? FcFontList(config.get(), every.get(), wanted.get()) : nullptr);
    auto impl = std::make_unique<Impl>();
    for (int i = 0; found && i < found->nfont; ++i) {
        auto face = face_from(found->fonts[i]);
        if (!face) continue;
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

Result<FontFace> FontLibrary::find(std::string_view family, int weight) const {
    const std::vector<FontFace> candidates = faces(family);
    if (candidates.empty()) {
        const std::string wanted = folded(family);
        const auto nearest = std::ranges::min_element(
            impl_->families, {}, [&](const std::string& name) { return edits_between(wanted, folded(name)); });
        return fail("font.not_found", "There is no font \"" + std::string(family) + "\" on this machine.",
                    "The nearest name is \"" + *nearest + "\".");
    }
    return *std::ranges::min_element(candidates, {}, [&](const FontFace& face) { return distance_from(face, weight); });
}

Result<std::shared_ptr<const LoadedFace>> loaded(const FontLibrary& fonts, const FontFace& face) {
    const auto& impl = fonts.impl();
    const std::scoped_lock lock(impl.mutex);
    auto& slot = impl.loaded[{face.file.string(), face.index}];
    if (!slot) {
        auto fresh = LoadedFace::load(face);
        if (!fresh) return fresh;
        slot = *fresh;
    }
    return slot;
}

} // namespace touchmark::content
