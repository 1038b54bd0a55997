// SPDX-License-Identifier: MIT
#include "core/process/process.h"

#include "core/base/atomic_file.h"
#include "core/process/extrusion.h"

#include <algorithm>
#include <tuple>

namespace touchmark::process {

const Limit* Process::limit(std::string_view key, Mode mode, Zone zone) const {
    const Limit* best = nullptr;
    int best_rank = -1;
    for (const Limit& entry : limits) {
        if (entry.key != key || (entry.mode && *entry.mode != mode) || (entry.zone && *entry.zone != zone)) continue;
        const int rank = (entry.zone ? 2 : 0) + (entry.mode ? 1 : 0);
        if (rank > best_rank) best = &entry, best_rank = rank;
    }
    return best;
}

const Suitability* Process::suitability_of(Mode mode, Zone zone) const {
    const auto at = std::find_if(suitability.begin(), suitability.end(),
                                 [&](const Suitability& s) { return s.mode == mode && s.zone == zone; });
    return at == suitability.end() ? nullptr : &*at;
}

Result<Process> load_process(const std::filesystem::path& file) {
    const Result<std::string> text = read_text(file, 1u << 20);
    if (!text) return std::unexpected(text.error());
    Result<Process> process = parse_process(*text, file.stem().string());
    if (!process) process.error().message = file.filename().string() + ": " + process.error().message;
    return process;
}

Result<std::vector<Process>> load_processes(const std::filesystem::path& folder) {
    std::error_code error;
    std::filesystem::directory_iterator at(folder, error);
    if (error)
        return fail("file.not_found", "There is no folder of process profiles at " + folder.string() + ".",
                    "Reinstall the program, or point TOUCHMARK_RESOURCES at its resources.");
    std::vector<Process> processes;
    for (; at != std::filesystem::directory_iterator(); at.increment(error)) {
        if (error) return fail("file.not_readable", "Cannot list " + folder.string() + ".", "Check its permissions.");
        if (at->path().extension() != ".json") continue;
        Result<Process> process = load_process(at->path());
        if (!process) return std::unexpected(process.error());
        processes.push_back(*std::move(process));
    }
    std::sort(processes.begin(), processes.end(), [](const Process& a, const Process& b) {
        const bool a_has_none = !extrudes(a), b_has_none = !extrudes(b);
        return std::tie(a_has_none, a.nozzle_mm.value, a.title, a.id) <
               std::tie(b_has_none, b.nozzle_mm.value, b.title, b.id);
    });
    return processes;
}

namespace {

void add(Digester& digester, const Sourced& figure) {
    digester.add(figure.value).add(figure.source).add(figure.assumed);
}
template <class T> void add(Digester& digester, const std::optional<T>& value) {
    digester.add(value ? static_cast<int>(*value) : -1);
}

} // namespace

void add(Digester& digester, const Process& process) {
    digester.add(process.id).add(process.title).add(process.material);
    for (const Sourced* figure : {&process.nozzle_mm, &process.line_width_mm, &process.layer_height_mm,
                                  &process.first_layer_mm, &process.zones.top_up_to, &process.zones.slope_up_to,
                                  &process.zones.side_wall_up_to, &process.zones.overhang_up_to})
        add(digester, *figure);
    digester.add(process.printing.has_value());
    if (process.printing) {
        for (const Printing::Row& row : Printing::rows())
            add(digester, (*process.printing).*row.figure);
        digester.add(process.printing->wedge.size()).add(process.printing->wedge_source);
        for (const WedgeStep& step : process.printing->wedge)
            digester.add(step.thickness_mm).add(step.log_transmission);
    }
    digester.add(process.suitability.size());
    for (const Suitability& entry : process.suitability) {
        digester.add(entry.zone).add(entry.mode).add(entry.reason);
        add(digester, entry.figure);
    }
    digester.add(process.limits.size());
    for (const Limit& entry : process.limits) {
        digester.add(entry.key).add(entry.unit);
        add(digester, entry.mode);
        add(digester, entry.zone);
        add(digester, entry.hard);
        add(digester, entry.comfortable);
    }
}

} // namespace touchmark::process
