// SPDX-License-Identifier: MIT
#include "app/cli/report.h"
#include "app/cli/workspace.h"
#include "app/resources.h"
#include "core/base/atomic_file.h"
#include "core/fitting/own_profile.h"
#include "core/fitting/sentences.h"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace touchmark::cli {
namespace {

using nlohmann::ordered_json;
namespace fs = std::filesystem;

struct Findings {
    std::vector<fitting::Item> items;
    fitting::Fit fit;
    std::vector<fitting::Outlook> outlook;
};

Result<Findings> findings_of(const process::Process& process, const fs::path& file) {
    auto bytes = read_text(file);
    if (!bytes) return std::unexpected(bytes.error());
    const std::vector<fitting::Item> items = fitting::items_of(process);
    const auto sheet = fitting::read_sheet(*std::move(bytes), items);
    if (!sheet) return std::unexpected(sheet.error());
    auto fit = fitting::fit_sheet(process, items, *sheet, Progress());
    if (!fit) return std::unexpected(fit.error());
    const auto fonts = content::FontLibrary::system();
    if (!fonts) return std::unexpected(fonts.error());
    auto outlook = fitting::outlook(*fit, items, *sheet, **fonts, Progress());
    if (!outlook) return std::unexpected(outlook.error());
    return Findings{items, *std::move(fit), *std::move(outlook)};
}

const fitting::Series& series_named(char letter) {
    return *std::ranges::find(fitting::all_series(), letter, &fitting::Series::letter);
}

void print_sentences(std::ostream& out, const Findings& found) {
    const fitting::Fit& fit = found.fit;
    out << fit.base.title << ", fitted to the sheet:\n";
    for (const fitting::FittedFigure& figure : fit.figures)
        out << "  " << figure.title << ": " << change_text(figure) << "; " << grounds_text(figure)
            << (figure.value ? ".\n" : "\n");
    for (const std::string& text : {scatter_text(fit), wedge_text(fit)})
        if (!text.empty()) out << text << '\n';
    if (!fit.series.empty()) out << "From which size on they come out, as seen (95 %); simulated before and after:\n";
    for (const fitting::SeriesOutcome& one : fit.series) {
        out << "  " << one.letter << ", " << series_named(one.letter).what << ": " << seen_text(one);
        if (one.base && one.fitted)
            out << "; " << fitting::fixed_number(*one.base, 2) << " → " << fitting::fixed_number(*one.fitted, 2)
                << " mm";
        out << '\n';
    }
    if (!found.outlook.empty()) out << outlook_text(found.outlook) << '\n';
    for (const std::string& one : fitting::surprises(found.outlook, found.items))
        out << "  " << one << '\n';
    for (const std::string& note : fit.notes)
        out << note << '\n';
}

ordered_json json_of(const fitting::FittedFigure& figure) {
    ordered_json out{{"key", figure.key}, {"unit", figure.unit}, {"before", figure.base}, {"rows", figure.rows}};
    if (figure.value) {
        out["after"] = *figure.value;
        if (figure.high > figure.low) out["low"] = figure.low, out["high"] = figure.high;
    } else {
        out["why"] = figure.why;
    }
    return out;
}

ordered_json json_of(const fitting::SeriesOutcome& one) {
    ordered_json out{{"series", std::string(1, one.letter)}};
    if (one.seen) {
        out["seen"] = {{"size", rounded(one.seen->size)}, {"spread", rounded(one.seen->spread)}};
        if (!one.seen->low_open) out["seen"]["low"] = rounded(one.seen->low);
        if (!one.seen->high_open) out["seen"]["high"] = rounded(one.seen->high);
    }
    if (one.base) out["before"] = rounded(*one.base);
    if (one.fitted) out["after"] = rounded(*one.fitted);
    return out;
}

ordered_json json_of(const Findings& found) {
    ordered_json figures = ordered_json::array(), series = figures, outlook = figures;
    for (const fitting::FittedFigure& figure : found.fit.figures)
        figures.push_back(json_of(figure));
    for (const fitting::SeriesOutcome& one : found.fit.series)
        series.push_back(json_of(one));
    for (const fitting::Outlook& one : found.outlook)
        outlook.push_back({{"item", found.items[one.item].name},
                           {"printed", one.printed},
                           {"came_out", one.came_out},
                           {"before", key_of(one.base)},
                           {"after", key_of(one.fitted)}});
    ordered_json out{{"process", found.fit.base.id},
                     {"figures", std::move(figures)},
                     {"series", std::move(series)},
                     {"not_used", std::move(outlook)},
                     {"notes", found.fit.notes}};
    if (found.fit.readings > 0) out["scatter_mm"] = rounded(found.fit.scatter_mm);
    if (const auto& wedge = found.fit.wedge)
        out["wedge"] = {{"r_squared", rounded(wedge->r_squared)}, {"surface", rounded(wedge->surface)}};
    return out;
}

/// Where the own profile went; empty where it was not asked for.
Result<std::string> saved(const Arguments& arguments, const fitting::Fit& fit) {
    if (!arguments.has("--title")) return std::string();
    const process::Derivation own = own_profile(
        fit, arguments.value("--title"), arguments.has("--limits") ? fitting::Limits::by_strip : fitting::Limits::stay);
    if (own.figures.empty() && own.wedge.empty())
        return fail("cli.nothing_fitted", "The sheet determines no figure; there is no profile to save.",
                    "Look at more items of the strip.");
    // What cannot be read again is not written.
    if (const auto whole = process::derived(fit.base, own, "own"); !whole) return std::unexpected(whole.error());
    if (!arguments.has("--out")) {
        const fs::path folder = own_processes_folder();
        if (folder.empty())
            return fail("cli.no_folder", "There is no folder for profiles of your own.",
                        "Say with --out where it goes.");
        const auto file = process::save_profile(folder, own);
        if (!file) return std::unexpected(file.error());
        return file->string();
    }
    const auto text = process::profile_json(own);
    if (!text) return std::unexpected(text.error());
    std::error_code unknown;
    const fs::path target = fs::absolute(arguments.value("--out"), unknown);
    if (const Status done = write_text_atomically(target, *text); !done) return std::unexpected(done.error());
    return target.string();
}

} // namespace

std::vector<Option> fit_options() {
    return {{"--process", "ID",
             "The profile that the strip was made for; " + std::string(standard_process) + " without it.", false},
            {"--title", "TEXT", "Saves what was fitted as a profile of the shop's own, by this name.", false},
            {"--out", "PROFILE.json",
             "Where it goes; without it among the profiles of your own, where window and command line find it.", false},
            {"--limits", "", "The own profile's limits for strokes and gaps come from the strip too.", false},
            {"--json", "", "Prints one JSON object instead of sentences.", false}};
}

Exit run_fit(const Environment& environment, const Arguments& arguments) {
    const auto usage = [&](std::string message, std::string hint) {
        return complain(environment, {"cli.usage", std::move(message), std::move(hint)}, Exit::usage);
    };
    for (const char* option : {"--out", "--limits"})
        if (arguments.has(option) && !arguments.has("--title"))
            return usage(std::string(option) + " has nothing to go with.", "Give the own profile a --title.");
    const auto processes = all_processes();
    if (!processes) return complain(environment, processes.error(), Exit::input);
    const auto id = known_process(*processes, arguments.value_or("--process", std::string(standard_process)));
    if (!id) return complain(environment, id.error(), Exit::usage);
    const auto found = findings_of(*std::ranges::find(*processes, *id, &process::Process::id), arguments.operand(0));
    if (!found) return complain(environment, found.error(), Exit::input);
    const auto target = saved(arguments, found->fit);
    if (!target)
        return complain(environment, target.error(),
                        target.error().code == "cli.nothing_fitted" ? Exit::input : Exit::not_made);
    if (arguments.has("--json")) {
        ordered_json object = json_of(*found);
        if (!target->empty()) object["saved"] = *target;
        print_json(environment.out, object);
        return Exit::done;
    }
    print_sentences(environment.out, *found);
    if (!target->empty())
        environment.out << "Wrote " << *target << ": \"" << arguments.value("--title") << "\", "
                        << fs::path(*target).stem().string() << " on the command line.\n";
    return Exit::done;
}

} // namespace touchmark::cli
