// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/progress.h"
#include "core/content/fonts.h"

#include <map>
#include <mutex>
#include <optional>

namespace touchmark::content {

/// What a face asks of a printer, measured on its capitals and figures. Lengths in cap heights.
struct FaceMeasure {
    double stroke = 0; ///< the narrowest
    double gap = 0;    ///< the narrowest opening within a letter
    int islands = 0;   ///< counters: as many pieces fall out when the letters are cut through

    friend bool operator==(const FaceMeasure&, const FaceMeasure&) = default;
};

/// Errors: "font.not_readable", "font.no_letters" (it lacks capitals or figures), "cancelled".
[[nodiscard]] Result<FaceMeasure> measure(const FontFace& face, const Progress& progress);

/// The smallest cap height (mm) at which strokes and gaps are as wide as they have to be.
[[nodiscard]] double least_cap_height(const FaceMeasure& measure, double stroke_mm, double gap_mm);

/// Measures by face, kept in a file from one run to the next: some 50 ms a face, hundreds of faces on a machine. A face
/// is known by its file's path, size and time of change, and where a variable font is set to. Safe to share between
/// threads.
class FaceMeasures {
public:
    /// Empty: not kept. A file that cannot be read is as none.
    explicit FaceMeasures(std::filesystem::path cache);
    /// nullopt: not measured yet. An error: it cannot be.
    [[nodiscard]] std::optional<Result<FaceMeasure>> known(const FontFace& face) const;
    [[nodiscard]] Result<FaceMeasure> of(const FontFace& face, const Progress& progress);
    [[nodiscard]] Status save() const;

private:
    std::filesystem::path cache_;
    mutable std::mutex mutex_;
    std::map<std::string, std::optional<FaceMeasure>> measures_; ///< nullopt: it has no letters
};

/// touchmark/faces in the folder for caches ($XDG_CACHE_HOME, else ~/.cache).
[[nodiscard]] std::filesystem::path face_measures_file();

} // namespace touchmark::content
