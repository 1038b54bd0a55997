// SPDX-License-Identifier: MIT
#include "core/process/profiles.h"

#include "core/base/atomic_file.h"
#include "core/base/json.h"
#include "core/process/extrusion.h"
#include "core/process/material.h"

#include <algorithm>

namespace touchmark::process {
namespace {

/// An own file that stands on another one and waits for it.
struct Waiting {
    std::filesystem::path file;
    std::string id;
    Derivation differs;
};

bool stands_on_another(std::string_view text) {
    const auto parsed = json::parse(text, "process.malformed", {.bytes = 1u << 20});
    return parsed && parsed->is_object() && parsed->contains("based_on");
}

std::vector<std::filesystem::path> own_files(const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> files;
    std::error_code error;
    for (std::filesystem::directory_iterator at(folder, error); !error && at != std::filesystem::directory_iterator();
         at.increment(error))
        // A name that begins with a dot is a file that is just being written.
        if (at->path().extension() == ".json" && !at->path().filename().string().starts_with('.'))
            files.push_back(at->path());
    std::ranges::sort(files);
    return files;
}

void read_own(const std::filesystem::path& file, Profiles& profiles, std::vector<Waiting>& waiting) {
    const auto leave_out = [&](const Error& error) { profiles.left_out.push_back({file, error}); };
    const std::string id = file.stem().string();
    const Result<std::string> text = read_text(file, 1u << 20);
    if (!text) return leave_out(text.error());
    if (profiles.find(id))
        return leave_out(
            {"process.taken", "A profile " + id + " comes along with the program.", "Give the file another name."});
    if (stands_on_another(*text)) {
        Result<Derivation> differs = parse_derivation(*text);
        if (!differs) return leave_out(differs.error());
        waiting.push_back({file, id, *std::move(differs)});
        return;
    }
    Result<Process> process = parse_process(*text, id);
    if (!process) return leave_out(process.error());
    profiles.all.push_back({*std::move(process), Origin::own, {}, {}, file, {}});
}

/// Puts up each whose base is there, until none is left that can be.
void put_up(Profiles& profiles, std::vector<Waiting>& waiting) {
    for (bool any = true; any;) {
        any = false;
        for (std::size_t i = 0; i < waiting.size(); ++i) {
            Waiting& one = waiting[i];
            const Profile* base = profiles.find(one.differs.based_on);
            if (!base) continue;
            Result<Process> process = derived(base->process, one.differs, one.id);
            if (process)
                profiles.all.push_back(
                    {*std::move(process), Origin::own, one.differs.based_on, {}, one.file, std::move(one.differs)});
            else
                profiles.left_out.push_back({one.file, process.error()});
            waiting.erase(waiting.begin() + static_cast<std::ptrdiff_t>(i));
            any = true;
            break;
        }
    }
}

/// Whether following the bases from it comes round to where it has been.
bool in_a_circle(const Waiting& one, const std::vector<Waiting>& waiting) {
    const Waiting* at = &one;
    for (std::size_t steps = 0; steps <= waiting.size(); ++steps) {
        const auto next = std::ranges::find(waiting, at->differs.based_on, &Waiting::id);
        if (next == waiting.end()) return false;
        if (&*next == &one) return true;
        at = &*next;
    }
    return false;
}

Error why_left(const Waiting& one, const std::vector<Waiting>& waiting) {
    const std::string& base = one.differs.based_on;
    if (in_a_circle(one, waiting))
        return {"process.circle", "It stands on " + base + ", which in the end stands on it.",
                "Name a profile that stands by itself under \"based_on\"."};
    return {"process.no_base", "It stands on " + base + ", which is not here or could not be used.",
            "Bring that profile as well, or name another under \"based_on\"."};
}

} // namespace

const Profile* Profiles::find(std::string_view id) const {
    const auto at = std::ranges::find_if(all, [&](const Profile& profile) { return profile.process.id == id; });
    return at == all.end() ? nullptr : &*at;
}

std::vector<Process> Profiles::processes() const {
    std::vector<Process> out;
    for (const Profile& profile : all)
        out.push_back(profile.process);
    return out;
}

Result<Profiles> load_built_in(const std::filesystem::path& resources) {
    Result<std::vector<Process>> plain = load_processes(resources / "processes");
    if (!plain) return std::unexpected(plain.error());
    const Result<std::vector<Material>> materials = load_materials(resources / "materials");
    if (!materials) return std::unexpected(materials.error());
    const auto others = std::ranges::stable_partition(*plain, extrudes);
    Profiles out;
    const auto add_plain = [&](const Process& process) {
        out.all.push_back({process, Origin::built_in, {}, {}, resources / "processes" / (process.id + ".json"), {}});
    };
    const std::span extruding(plain->begin(), others.begin());
    std::ranges::for_each(extruding, add_plain);
    for (const Process& process : extruding)
        for (const Material& material : *materials) {
            Result<Process> composed = with_material(process, material);
            if (!composed) return std::unexpected(composed.error());
            out.all.push_back({*std::move(composed),
                               Origin::composed,
                               process.id,
                               material.id,
                               resources / "materials" / (material.id + ".json"),
                               {}});
        }
    std::ranges::for_each(others, add_plain);
    return out;
}

void add_own(Profiles& profiles, const std::filesystem::path& folder) {
    const auto built_in = static_cast<std::ptrdiff_t>(profiles.all.size());
    std::vector<Waiting> waiting;
    for (const std::filesystem::path& file : own_files(folder))
        read_own(file, profiles, waiting);
    put_up(profiles, waiting);
    for (const Waiting& one : waiting)
        profiles.left_out.push_back({one.file, why_left(one, waiting)});
    std::ranges::stable_sort(profiles.all.begin() + built_in, profiles.all.end(), {},
                             [](const Profile& profile) { return profile.process.title; });
}

} // namespace touchmark::process
