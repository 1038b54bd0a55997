// SPDX-License-Identifier: MIT
#include "tests/core/part/derived_files.h"

#include "core/base/atomic_file.h"
#include "tests/support/open_parts.h"

#include <cstdlib>
#include <fstream>
#include <regex>
#include <stdexcept>

namespace touchmark::test {

Folder::Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "touchmark-part-XXXXXX").string();
    if (!::mkdtemp(name.data())) throw std::runtime_error("no temporary folder");
    path_ = name;
}

Folder::~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

std::filesystem::path Folder::write(std::string_view name, std::string_view bytes) const {
    const std::filesystem::path file = path_ / name;
    std::ofstream(file, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    return file;
}

std::string open_text(std::string_view name) {
    auto text = read_text(open_part(name));
    if (!text) throw std::runtime_error(text.error().message);
    return *text;
}

std::string replaced(std::string text, std::string_view from, std::string_view to) {
    const std::size_t at = text.find(from);
    if (at == std::string::npos) throw std::runtime_error("nothing to replace: " + std::string(from));
    return text.replace(at, from.size(), to);
}

std::string replaced_all(std::string text, std::string_view from, std::string_view to) {
    std::size_t count = 0;
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()), ++count)
        text.replace(at, from.size(), to);
    if (count == 0) throw std::runtime_error("nothing to replace: " + std::string(from));
    return text;
}

std::string rewritten(const std::string& text, const std::string& pattern, const std::string& format) {
    std::string out = std::regex_replace(text, std::regex(pattern), format);
    if (out == text) throw std::runtime_error("nothing to rewrite: " + pattern);
    return out;
}

std::string without(const std::string& text, const std::string& keyword) {
    return rewritten(text, "#[0-9]+ ?= ?" + keyword + "\\([^;]*;", "");
}

} // namespace touchmark::test
