// SPDX-License-Identifier: MIT
#include "core/process/material.h"

#include "core/base/atomic_file.h"
#include "core/base/json.h"
#include "core/process/figures.h"
#include "core/process/read_figures.h"

#include <algorithm>
#include <cmath>

namespace touchmark::process {
namespace {

constexpr json::Format material_format{
    .name = "touchmark material", .newer_code = "process.newer_version", .is_a = "a material"};
constexpr double least_factor = 0.01, most_factor = 100;

MaterialFigure read_figure(const json::Node& node) {
    MaterialFigure out;
    out.key = node["figure"].text();
    const auto kind = kind_of(out.key);
    if (!kind) {
        node["figure"].refuse("is \"" + out.key + "\", which no profile can have");
        return out;
    }
    out.is_factor = node.find("factor").has_value();
    if (out.is_factor) {
        node.allow_only({"figure", "factor", "source", "assumed"});
        out.figure.value = node["factor"].number(least_factor, most_factor);
    } else {
        node.allow_only({"figure", "value", "unit", "source", "assumed"});
        out.figure.value = node["value"].number(kind->least, kind->most);
        if (const auto unit = node.find("unit"); (unit ? unit->text() : std::string()) != kind->unit)
            node.trouble().say_as("process.unit", node.path() + " must be in \"" + kind->unit + "\".",
                                  "Convert the figure, then name the unit.");
    }
    out.figure.source = node["source"].text();
    if (!node.trouble() && out.figure.source.find_first_not_of(" \t\n") == std::string::npos)
        node["source"].refuse("is empty", "Say why; \"assumed\" is an answer, silence is not.");
    if (const auto assumed = node.find("assumed")) out.figure.assumed = assumed->truth();
    return out;
}

std::string without(std::string_view prefix, std::string_view text) {
    if (text.starts_with(prefix)) text.remove_prefix(prefix.size());
    return std::string(text);
}

Sourced scaled(const Sourced& was, const std::string& unit, const MaterialFigure& by, const Process& base) {
    Sourced out;
    out.value = std::round(was.value * by.figure.value * 1e6) / 1e6;
    out.assumed = was.assumed || by.figure.assumed;
    out.source = (out.assumed ? "assumed: " : "") + figure_text(by.figure.value) + " × " + figure_text(was.value) +
                 (unit.empty() ? "" : " " + unit) + ", " + without("assumed: ", by.figure.source) + "; " +
                 figure_text(was.value) + " in " + base.id + ": " + was.source;
    return out;
}

} // namespace

Result<Material> parse_material(std::string_view text, std::string id) {
    const Result<json::Value> parsed = json::parse(text, "process.malformed", {.bytes = 1u << 20});
    if (!parsed) return std::unexpected(parsed.error());
    json::Trouble trouble("process.malformed");
    const json::Node root(*parsed, "", trouble);
    json::read_version(root, material_format);
    root.allow_only({"$schema", "format", "version", "title", "material", "figures"});
    Material out;
    out.id = std::move(id);
    out.title = root["title"].text();
    out.material = root["material"].text();
    for (const json::Node& node : root["figures"].elements()) {
        out.figures.push_back(read_figure(node));
        const auto same = [&](const MaterialFigure& one) { return one.key == out.figures.back().key; };
        if (std::count_if(out.figures.begin(), out.figures.end(), same) > 1) node.refuse("is given twice");
    }
    if (trouble) return std::unexpected(trouble.error());
    return out;
}

Result<std::vector<Material>> load_materials(const std::filesystem::path& folder) {
    std::vector<Material> materials;
    std::error_code error;
    std::filesystem::directory_iterator at(folder, error);
    if (error)
        return fail("file.not_found", "There is no folder of materials at " + folder.string() + ".",
                    "Reinstall the program, or point TOUCHMARK_RESOURCES at its resources.");
    for (; at != std::filesystem::directory_iterator(); at.increment(error)) {
        if (error) return fail("file.not_readable", "Cannot list " + folder.string() + ".", "Check its permissions.");
        if (at->path().extension() != ".json") continue;
        const Result<std::string> text = read_text(at->path(), 1u << 20);
        if (!text) return std::unexpected(text.error());
        Result<Material> material = parse_material(*text, at->path().stem().string());
        if (!material) {
            material.error().message = at->path().filename().string() + ": " + material.error().message;
            return std::unexpected(material.error());
        }
        materials.push_back(*std::move(material));
    }
    std::ranges::sort(materials, {}, &Material::title);
    return materials;
}

Result<Process> with_material(const Process& base, const Material& material) {
    std::vector<Adjustment> adjustments;
    for (const MaterialFigure& figure : material.figures) {
        const std::string unit = kind_of(figure.key)->unit;
        const std::optional<Sourced> was = counted(base, figure.key);
        if (!was)
            return fail("process.unknown_figure",
                        material.id + " changes " + figure.key + ", which " + base.id + " does not have.");
        adjustments.push_back({figure.key, figure.is_factor ? scaled(*was, unit, figure, base) : figure.figure});
    }
    Result<Process> process =
        adjusted(base, adjustments, base.id + "-" + material.id, base.title + ", " + material.title);
    if (process) process->material = material.material;
    return process;
}

} // namespace touchmark::process
