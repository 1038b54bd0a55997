// SPDX-License-Identifier: MIT
#include "tests/core/part/derived_files.h"

#include "core/base/atomic_file.h"
#include "tests/support/open_parts.h"

#include <cmath>
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

std::string doublings(int levels) {
    // The cube's: product definition, representation, axes, context of the shapes and of the products.
    std::string definition = "#18", representation = "#13";
    const std::string axes = "#15", shape_context = "#12", product_context = "#2", definition_context = "#3";
    std::string added;
    for (int level = 0; level < levels; ++level) {
        const auto id = [&](int n) { return "#" + std::to_string(1000 + 100 * level + n); };
        const auto add = [&](int n, const std::string& entity) { added += id(n) + "=" + entity + ";\n"; };
        const auto relation = [](const std::string& name, const std::string& arguments) {
            return name + "('',''," + arguments + ")";
        };
        add(0, relation("PRODUCT", "'',(" + product_context + ")"));
        add(1, relation("PRODUCT_DEFINITION_FORMATION", id(0)));
        add(2, relation("PRODUCT_DEFINITION", id(1) + "," + definition_context));
        add(3, relation("PRODUCT_DEFINITION_SHAPE", id(2)));
        add(4, "SHAPE_REPRESENTATION('',(" + axes + "," + id(10) + "," + id(20) + ")," + shape_context + ")");
        add(5, "SHAPE_DEFINITION_REPRESENTATION(" + id(3) + "," + id(4) + ")");
        for (const int at : {10, 20}) {
            const double aside = at == 10 ? 0 : 200 * std::exp2(level);
            add(at, "AXIS2_PLACEMENT_3D(''," + id(at + 1) + ",$,$)");
            add(at + 1, "CARTESIAN_POINT('',(" + std::to_string(aside) + ",0.,0.))");
            add(at + 2, "NEXT_ASSEMBLY_USAGE_OCCURRENCE('" + std::to_string(at) + "','',''," + id(2) + "," +
                            definition + ",$)");
            add(at + 3, relation("PRODUCT_DEFINITION_SHAPE", id(at + 2)));
            add(at + 4, relation("ITEM_DEFINED_TRANSFORMATION", axes + "," + id(at)));
            add(at + 5, "(" + relation("REPRESENTATION_RELATIONSHIP", representation + "," + id(4)) +
                            "REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(" + id(at + 4) +
                            ")SHAPE_REPRESENTATION_RELATIONSHIP())");
            add(at + 6, "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(" + id(at + 5) + "," + id(at + 3) + ")");
        }
        definition = id(2);
        representation = id(4);
    }
    return replaced(open_text("step_boundary_colors.stp"), "#16=PRODUCT(", added + "#16=PRODUCT(");
}

std::string without(const std::string& text, const std::string& keyword) {
    return rewritten(text, "#[0-9]+ ?= ?" + keyword + "\\([^;]*;", "");
}

} // namespace touchmark::test
