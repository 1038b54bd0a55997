// SPDX-License-Identifier: MIT
#include "core/pipeline/study.h"
#include "app/cli/report.h"
#include "app/cli/workspace.h"
#include "app/resources.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <functional>
#include <iomanip>
#include <map>

namespace touchmark::cli {
namespace {

using pipeline::Agreement;
using pipeline::StudyCase;

nlohmann::ordered_json json_of(const Agreement& agreement) {
    return {{"both", agreement.both},
            {"only_rule", agreement.only_rule},
            {"only_print", agreement.only_print},
            {"neither", agreement.neither},
            {"precision", rounded(agreement.precision())},
            {"recall", rounded(agreement.recall())}};
}

struct Sums {
    Agreement print, read;
    int cases = 0;
};

/// One row a value of what `name` tells of a case.
void print_table(std::ostream& out, std::string_view title, std::span<const StudyCase> cases,
                 const std::function<std::string(const StudyCase&)>& name) {
    std::map<std::string, Sums> rows;
    for (const StudyCase& one : cases) {
        Sums& sums = rows[name(one)];
        sums.print += one.will_not_print;
        sums.read += one.will_not_read;
        ++sums.cases;
    }
    out << "\n| " << title << " | cases | will not print: precision | recall | will not read: precision | recall |\n"
        << "|---|---|---|---|---|---|\n"
        << std::fixed << std::setprecision(2);
    for (const auto& [key, sums] : rows)
        out << "| " << key << " | " << sums.cases << " | " << sums.print.precision() << " | " << sums.print.recall()
            << " | " << sums.read.precision() << " | " << sums.read.recall() << " |\n";
}

} // namespace

std::vector<Option> study_options() {
    return {{"--font", "FAMILY",
             "A family to print, regular and bold; may be given again. Five common ones without it.", false, true},
            {"--json", "", "Prints one JSON object with every case.", false}};
}

Exit run_study(const Environment& environment, const Arguments& arguments) {
    const auto fonts = content::FontLibrary::system();
    if (!fonts) return complain(environment, fonts.error(), Exit::input);
    // The plain ones: a material changes none of the limits that are held against the print here.
    const auto processes = process::load_processes(resources_folder() / "processes");
    if (!processes) return complain(environment, processes.error(), Exit::input);
    std::vector<std::string> families = arguments.all("--font");
    if (families.empty())
        families = {"DejaVu Sans", "DejaVu Sans Mono", "DejaVu Serif", "Liberation Sans", "Liberation Serif"};
    pipeline::StudyOptions options;
    options.heights = {1.5, 2, 2.5, 3, 4, 5, 7, 10};
    for (const std::string& family : families)
        for (const int weight : {400, 700})
            options.faces.emplace_back(family, weight);
    const auto cases = pipeline::study(options, **fonts, *processes, Progress());
    if (!cases) return complain(environment, cases.error(), Exit::input);
    if (arguments.has("--json")) {
        auto list = nlohmann::ordered_json::array();
        for (const StudyCase& one : *cases)
            list.push_back({{"process", one.process},
                            {"family", one.family},
                            {"weight", one.weight},
                            {"cap_height_mm", one.cap_height},
                            {"mode", key_of(one.mode)},
                            {"zone", key_of(one.zone)},
                            {"mean_figure", rounded(one.mean_figure)},
                            {"will_not_print", json_of(one.will_not_print)},
                            {"will_not_read", json_of(one.will_not_read)}});
        print_json(environment.out, {{"cases", list}});
        return Exit::done;
    }
    environment.out << cases->size() << " cases of " << options.letters.size() << " letters each.\n";
    print_table(environment.out, "all", *cases, [](const StudyCase&) { return std::string("all"); });
    print_table(environment.out, "process", *cases, [](const StudyCase& one) { return one.process; });
    print_table(environment.out, "mode and zone", *cases, [](const StudyCase& one) {
        return std::string(title_of(one.mode)) + ", " + std::string(title_of(one.zone));
    });
    print_table(environment.out, "face", *cases,
                [](const StudyCase& one) { return one.family + (one.weight >= 700 ? " bold" : " regular"); });
    return Exit::done;
}

} // namespace touchmark::cli
