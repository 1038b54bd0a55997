// SPDX-License-Identifier: MIT
#pragma once

#include "core/pipeline/evaluate.h"

#include <filesystem>

namespace touchmark::viewport {

struct PictureOptions {
    int width = 1280, height = 960; ///< pixels
    /// Shade by how well each zone takes a mark in this mode; nullopt: plain grey, as the part will look.
    std::optional<Mode> shade_for;
    /// Face to look at squarely (through 3/4 of it); -1: the whole part as it stands, from the front right.
    int face = -1;
};

/// A PNG of a part (marked or not) as it stands on the plate. Needs no display. Errors: "picture.no_graphics",
/// "file.not_writable".
[[nodiscard]] Status write_picture(const part::Part& part, const pipeline::Evaluation& evaluation,
                                   const process::Process& process, const std::filesystem::path& png,
                                   const PictureOptions& options = {});

} // namespace touchmark::viewport
