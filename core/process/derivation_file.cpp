// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"
#include "core/base/json.h"
#include "core/process/adjustment.h"
#include "core/process/figures.h"
#include "core/process/read_figures.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <fcntl.h>
#include <unistd.h>

namespace touchmark::process {
namespace {

using Ordered = nlohmann::ordered_json;

constexpr std::size_t longest_file = 1u << 20;
constexpr std::size_t longest_stem = 60;

Ordered written(const Sourced& figure, const std::string& unit) {
    Ordered out{{"value", figure.value}};
    if (!unit.empty()) out["unit"] = unit;
    out["source"] = figure.source;
    if (figure.assumed) out["assumed"] = true;
    return out;
}

std::vector<std::string> split(const std::string& key) {
    std::vector<std::string> parts(1);
    for (const char c : key) {
        if (c == '.')
            parts.emplace_back();
        else
            parts.back() += c;
    }
    return parts;
}

/// The entry of a list that has these members, added when it is missing.
Ordered& entry(Ordered& list, const Ordered& members) {
    if (!list.is_array()) list = Ordered::array();
    for (Ordered& one : list) {
        const bool same = std::ranges::all_of(std::array{"limit", "mode", "zone"}, [&](const char* name) {
            return one.contains(name) == members.contains(name) && (!one.contains(name) || one[name] == members[name]);
        });
        if (same) return one;
    }
    list.push_back(members);
    return list.back();
}

void put(Ordered& root, const Adjustment& adjustment) {
    const auto parts = split(adjustment.key);
    const Ordered figure = written(adjustment.figure, kind_of(adjustment.key)->unit);
    if (parts[0] == "suitability") {
        entry(root["suitability"], {{"mode", parts[1]}, {"zone", parts[2]}})["figure"] = figure;
    } else if (parts[0] == "limits") {
        Ordered members;
        members["limit"] = parts[1];
        if (mode_from(parts[2])) members["mode"] = parts[2];
        if (zone_from(parts[3])) members["zone"] = parts[3];
        entry(root["limits"], members)[parts[4]] = figure;
    } else if (parts.size() == 2) {
        root[parts[0]][parts[1]] = figure;
    } else {
        root[parts[0]] = figure;
    }
}

void read_figure(const json::Node& node, std::string key, std::vector<Adjustment>& figures) {
    const auto kind = kind_of(key);
    if (!kind) return node.refuse("is none that a profile can have");
    figures.push_back({std::move(key), read_sourced(node, kind->unit, kind->least, kind->most)});
}

/// The members of an object that are figures; `but`: the one that is not.
void read_group(const json::Node& group, const std::string& name, std::span<const std::string_view> known,
                std::string_view but, std::vector<Adjustment>& figures) {
    std::vector<std::string_view> keys(known.begin(), known.end());
    if (!but.empty()) keys.push_back(but);
    group.allow_only(keys);
    for (const std::string_view key : known)
        if (const auto node = group.find(key)) read_figure(*node, name + "." + std::string(key), figures);
}

void read_suitability(const json::Node& node, std::vector<Adjustment>& figures) {
    node.allow_only({"mode", "zone", "figure"});
    const std::string mode(key_of(read_mode(node["mode"]))), zone(key_of(read_zone(node["zone"])));
    if (!node.trouble()) read_figure(node["figure"], "suitability." + mode + "." + zone, figures);
}

void read_limit(const json::Node& node, std::vector<Adjustment>& figures) {
    node.allow_only({"limit", "mode", "zone", "hard", "comfortable"});
    Limit limit;
    limit.key = node["limit"].text();
    if (!node.trouble() && !kind_of(limit_key(limit, "hard")))
        return node["limit"].refuse("is \"" + limit.key + "\", which no rule knows");
    if (const auto mode = node.find("mode")) limit.mode = read_mode(*mode);
    if (const auto zone = node.find("zone")) limit.zone = read_zone(*zone);
    if (node.trouble()) return;
    const std::size_t before = figures.size();
    for (const char* end : {"hard", "comfortable"})
        if (const auto figure = node.find(end)) read_figure(*figure, limit_key(limit, end), figures);
    if (figures.size() == before) node.refuse("gives neither \"hard\" nor \"comfortable\"");
}

void refuse_doubles(const Derivation& derivation, json::Trouble& trouble) {
    for (std::size_t i = 0; i < derivation.figures.size(); ++i)
        for (std::size_t k = 0; k < i; ++k)
            if (derivation.figures[i].key == derivation.figures[k].key)
                trouble.say(derivation.figures[i].key + " is given twice.", "Remove one.");
}

/// "Shop PETG, 0.4" → "own-shop-petg-0.4"; "Own 0.4" → "own-0.4". Letters beyond ASCII stay as they are.
std::string stem_of(std::string_view title) {
    std::string stem = "own";
    bool gap = true;
    for (const std::string_view start : {"own ", "Own "})
        if (title.starts_with(start)) title.remove_prefix(start.size());
    for (const char c : title) {
        const bool letter = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || (static_cast<unsigned char>(c) & 0x80);
        const bool capital = c >= 'A' && c <= 'Z';
        if (letter || capital || (c == '.' && !gap)) {
            if (gap) stem += '-';
            gap = false;
            stem += capital ? static_cast<char>(c - 'A' + 'a') : c;
        } else {
            gap = true;
        }
    }
    if (stem.size() > longest_stem) {
        std::size_t end = longest_stem;
        while ((static_cast<unsigned char>(stem[end]) & 0xC0) == 0x80)
            --end;
        stem.resize(end);
    }
    while (stem.ends_with('.') || stem.ends_with('-'))
        stem.pop_back();
    return stem == "own" ? "own-profile" : stem;
}

/// A file that did not exist before: nobody else can take the name between asking and writing.
bool reserve(const std::filesystem::path& file, int& reason) {
    const int made = ::open(file.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666);
    reason = made < 0 ? errno : 0;
    if (made >= 0) ::close(made);
    return made >= 0;
}

} // namespace

Result<std::string> profile_json(const Derivation& derivation) {
    Ordered root{{"format", process_format.name},
                 {"version", 1},
                 {"title", derivation.title},
                 {"based_on", derivation.based_on}};
    if (!derivation.material.empty()) root["material"] = derivation.material;
    for (const Adjustment& adjustment : derivation.figures) {
        if (!kind_of(adjustment.key))
            return fail("process.unknown_figure",
                        "The figure \"" + adjustment.key + "\" is none that a profile can have.");
        put(root, adjustment);
    }
    if (!derivation.wedge.empty()) {
        Ordered steps = Ordered::array();
        for (const WedgeStep& step : derivation.wedge)
            steps.push_back({{"thickness_mm", step.thickness_mm}, {"log_transmission", step.log_transmission}});
        root["printing"]["wedge"] = {{"source", derivation.wedge_source}, {"steps", steps}};
    }
    // A text that is not UTF-8 shall not throw: what is wrong in it becomes U+FFFD.
    std::string text = root.dump(2, ' ', false, Ordered::error_handler_t::replace) + "\n";
    if (const auto back = parse_derivation(text); !back) return std::unexpected(back.error());
    return text;
}

Result<Derivation> parse_derivation(std::string_view text) {
    const Result<json::Value> parsed = json::parse(text, "process.malformed", {.bytes = longest_file});
    if (!parsed) return std::unexpected(parsed.error());
    json::Trouble trouble("process.malformed", "process.range");
    const json::Node root(*parsed, "", trouble);
    json::read_version(root, process_format);
    root.allow_only({"$schema", "format", "version", "title", "based_on", "material", "nozzle", "line_width",
                     "layer_height", "first_layer", "printing", "zones", "suitability", "limits"});
    Derivation out;
    out.title = root["title"].text();
    if (out.title.find_first_not_of(" \t\n") == std::string::npos)
        root["title"].refuse("is empty", "Name the profile.");
    out.based_on = root["based_on"].text();
    if (const auto material = root.find("material")) out.material = material->text();
    for (const char* key : {"nozzle", "line_width", "layer_height", "first_layer"})
        if (const auto node = root.find(key)) read_figure(*node, key, out.figures);
    if (const auto printing = root.find("printing")) {
        std::vector<std::string_view> keys;
        for (const Printing::Row& row : Printing::rows())
            keys.push_back(row.key);
        read_group(*printing, "printing", keys, "wedge", out.figures);
        if (const auto wedge = printing->find("wedge")) read_wedge(*wedge, out.wedge, out.wedge_source);
    }
    if (const auto zones = root.find("zones")) {
        constexpr std::string_view keys[] = {"top_up_to", "slope_up_to", "side_wall_up_to", "overhang_up_to"};
        read_group(*zones, "zones", keys, {}, out.figures);
    }
    if (const auto list = root.find("suitability"))
        for (const json::Node& node : list->elements())
            read_suitability(node, out.figures);
    if (const auto list = root.find("limits"))
        for (const json::Node& node : list->elements())
            read_limit(node, out.figures);
    if (!trouble) refuse_doubles(out, trouble);
    if (trouble) return std::unexpected(trouble.error());
    return out;
}

Result<std::filesystem::path> save_profile(const std::filesystem::path& folder, const Derivation& derivation) {
    const Result<std::string> text = profile_json(derivation);
    if (!text) return std::unexpected(text.error());
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    const std::string stem = stem_of(derivation.title);
    std::filesystem::path file = folder / (stem + ".json");
    int reason = 0;
    for (int count = 2; !reserve(file, reason); ++count) {
        if (reason != EEXIST || count > 10'000)
            return fail("file.not_writable", "Cannot write in " + folder.string() + ".",
                        "Check that the folder exists and that you may write to it.");
        file = folder / (stem + "-" + std::to_string(count) + ".json");
    }
    if (Status done = write_text_atomically(file, *text); !done) {
        std::filesystem::remove(file, error);
        return std::unexpected(done.error());
    }
    return file;
}

Status replace_profile(const std::filesystem::path& file, const Derivation& derivation) {
    const Result<std::string> text = profile_json(derivation);
    if (!text) return std::unexpected(text.error());
    return write_text_atomically(file, *text);
}

} // namespace touchmark::process
