// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace touchmark::test {

/// A folder that goes when the test does.
class Folder {
public:
    Folder();
    ~Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }
    std::filesystem::path write(std::string_view name, std::string_view bytes) const;

private:
    std::filesystem::path path_;
};

/// The bytes of a file of the open set.
[[nodiscard]] std::string open_text(std::string_view name);

/// These throw std::runtime_error when there is nothing to replace, so that a test whose file no longer fits fails.
[[nodiscard]] std::string replaced(std::string text, std::string_view from, std::string_view to);
[[nodiscard]] std::string replaced_all(std::string text, std::string_view from, std::string_view to);
/// Each match of the regular expression, by its format.
[[nodiscard]] std::string rewritten(const std::string& text, const std::string& pattern, const std::string& format);
/// The cube of step_boundary_colors.stp (100 mm) at the bottom of assemblies, each of which places the next twice, side
/// by side: 2^levels cubes in a file of some kilobytes. OpenCASCADE's writer cannot make such a file: it multiplies
/// out.
[[nodiscard]] std::string doublings(int levels);
/// Without the entities of that keyword: what refers to them dangles.
[[nodiscard]] std::string without(const std::string& text, const std::string& keyword);

} // namespace touchmark::test
