// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/content.h"

#include <gtest/gtest.h>

namespace touchmark::test {

/// The fonts of this machine, read once.
[[nodiscard]] const content::FontLibrary& fonts();
[[nodiscard]] std::filesystem::path font_file(std::string_view family, int weight = 700);

/// Draws or fails the test. `family` empty: the default one.
[[nodiscard]] content::Drawn drawn(const content::Text& text);
[[nodiscard]] content::Drawn drawn(std::string text, std::string family = {}, double cap_height = 5);
/// The error's code; empty when it was drawn.
[[nodiscard]] std::string refusal(const content::Text& text);

[[nodiscard]] std::vector<std::string> labels(const content::Drawn& drawn);

/// Pieces cover every region once and in order, boxes are right, the whole is centred, the outline is valid.
[[nodiscard]] testing::AssertionResult is_consistent(const content::Drawn& drawn);

} // namespace touchmark::test
