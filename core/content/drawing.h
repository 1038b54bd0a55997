// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/digest.h"
#include "core/base/result.h"
#include "core/geometry/outline.h"

#include <filesystem>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

namespace touchmark::content {

/// Something of a drawing that cannot be a solid shape, or is made one in a way that a person should know of.
struct Note {
    std::string what; ///< "text", "open lines": completes "… of the drawing"
    std::size_t count = 1;
    bool lost = true; ///< left out; else changed

    friend bool operator==(const Note&, const Note&) = default;
};

/// What a drawing file holds, as one outline.
struct Shape {
    geometry::Outline outline;    ///< centred, the longer side of its extent 100 long
    double scale = 1;             ///< millimetres of the file a unit of the outline
    double width = 1, height = 1; ///< of the extent, in units of the outline
    std::vector<Note> notes;
};

/// The text of an SVG or DXF file. Immutable; its shape is made once, when it is first asked for, by any thread.
class Drawing {
public:
    explicit Drawing(std::string source);
    [[nodiscard]] const std::string& source() const { return source_; }
    [[nodiscard]] const Digest& digest() const { return digest_; }
    /// Errors: "content.art_malformed", "content.art_too_complex", "content.art_empty" (nothing with an area),
    /// "content.art_huge" (a coordinate out of all proportion).
    [[nodiscard]] const Result<Shape>& shape() const;

private:
    std::string source_;
    Digest digest_;
    mutable std::once_flag once_;
    mutable std::optional<Result<Shape>> shape_;
};

enum class ScaledBy { width, height };

/// Line art. The drawing is held by content, not by its path: a job stays whole when it is moved or mailed, and what
/// was approved does not change behind its back.
struct Art {
    std::string name; ///< of the file it came from; for people
    std::shared_ptr<const Drawing> drawing{};
    ScaledBy scaled_by = ScaledBy::width;
    double size_mm = 20;

    friend bool operator==(const Art& a, const Art& b);
};

inline constexpr std::size_t largest_drawing = 4'000'000; ///< bytes
inline constexpr double largest_art = 10'000;             ///< mm, either way

/// At its own size. Text that is not UTF-8 is taken as UTF-16 when it says so, else as Latin-1. Errors:
/// "content.art_too_large", those of Drawing::shape().
[[nodiscard]] Result<Art> art_from(std::string name, std::string bytes);
/// Errors: those of reading a file, and of art_from().
[[nodiscard]] Result<Art> art_from_file(const std::filesystem::path& file);

struct Drawn;
/// The row of draw() for line art.
[[nodiscard]] Result<Drawn> draw_art(const Art& art);

// One reader a format. Outlines come in millimetres of the file, y up, nowhere in particular.
struct ReadDrawing {
    geometry::Outline outline;
    std::vector<Note> notes;
};
[[nodiscard]] Result<ReadDrawing> read_svg(std::string_view text);
[[nodiscard]] Result<ReadDrawing> read_dxf(std::string_view text);

/// geometry::outline_from with patience: what does not settle as it lies is tried slightly turned and more coarsely.
/// Errors: "content.art_too_complex".
[[nodiscard]] Result<geometry::Outline> one_shape(std::vector<geometry::Contour> contours,
                                                  geometry::FillRule fill = geometry::FillRule::nonzero);

/// Adds one to the note, or begins it.
void count_note(std::vector<Note>& notes, std::string what, bool lost = true);

} // namespace touchmark::content
