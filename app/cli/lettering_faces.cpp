// SPDX-License-Identifier: MIT
#include "app/cli/command.h"
#include "app/cli/report.h"
#include "app/cli/workspace.h"
#include "core/base/number_text.h"
#include "core/content/content.h"
#include "core/content/face_measures.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>

namespace touchmark::cli {
namespace {

using Json = nlohmann::ordered_json;

struct Row {
    content::FontFace face;
    content::FaceMeasure measure;
    double from_mm = 0; ///< the cap height from which it prints cleanly
};

} // namespace

std::vector<Option> lettering_faces_options() {
    return {{"--height", "MM", "Tells the strokes at this cap height; 5 by default.", false},
            {"--weight", "N", "Looks at each family's face nearest to this weight, 100 to 900; 700 by default.", false},
            {"--family", "NAME", "Only families with this in their name.", false},
            {"--process", "NAME", "Process profile; fff-0.4 by default.", false},
            {"--mode", "engrave|raise|hidden|inlay|through", "How the lettering is made; engrave by default.", false},
            {"--all", "", "Also the faces that do not print cleanly at this height.", false},
            {"--json", "", "One JSON object.", false}};
}

Exit run_lettering_faces(const Environment& environment, const Arguments& arguments) {
    const auto height = parse_length("--height", arguments.value_or("--height", "5"));
    if (!height) return complain(environment, height.error(), Exit::usage);
    const auto weight = parse_index("--weight", arguments.value_or("--weight", "700"));
    if (!weight) return complain(environment, weight.error(), Exit::usage);
    const auto mode = mode_from(arguments.value_or("--mode", "engrave"));
    if (!mode || !(*height > 0) || *weight < 1 || *weight > 1000)
        return complain(environment,
                        {"cli.usage", "A height has to be above 0, a weight from 1 to 1000, a mode one of the five.",
                         "See touchmark-cli lettering-faces --help."},
                        Exit::usage);
    const auto processes = all_processes();
    if (!processes) return complain(environment, processes.error(), Exit::input);
    const auto id = known_process(*processes, arguments.value_or("--process", std::string(standard_process)));
    if (!id) return complain(environment, id.error(), Exit::usage);
    const auto process = std::ranges::find(*processes, *id, &process::Process::id);
    const auto fonts = content::FontLibrary::system();
    if (!fonts) return complain(environment, fonts.error(), Exit::input);
    const process::Limit* stroke = process->limit("stroke_width", *mode, Zone::side_wall);
    const process::Limit* gap = process->limit("gap_width", *mode, Zone::side_wall);
    content::FaceMeasures measures(content::face_measures_file());
    const Progress progress;
    std::vector<Row> rows;
    for (const std::string& family : (*fonts)->families()) {
        if (family.find(arguments.value_or("--family", "")) == family.npos) continue;
        const auto face = (*fonts)->find(family, *weight);
        const auto measure = face ? measures.of(*face, progress) : std::unexpected(face.error());
        if (!measure) continue;
        const double from = content::least_cap_height(*measure, stroke ? stroke->comfortable.value : 0,
                                                      gap ? gap->comfortable.value : 0);
        if (from <= *height || arguments.has("--all")) rows.push_back({*face, *measure, from});
    }
    (void)measures.save(); // a cache: without it the next run measures anew
    std::ranges::stable_sort(rows, {}, &Row::from_mm);
    if (arguments.has("--json")) {
        Json all = Json::array();
        for (const Row& row : rows)
            all.push_back({{"family", row.face.family},
                           {"style", row.face.style},
                           {"weight", row.face.weight},
                           {"stroke_mm", row.measure.stroke * *height},
                           {"gap_mm", row.measure.gap * *height},
                           {"islands", row.measure.islands},
                           {"prints_from_mm", row.from_mm}});
        print_json(environment.out, {{"cap_height_mm", *height}, {"process", process->id}, {"faces", all}});
        return Exit::done;
    }
    if (rows.empty())
        environment.out << "None prints cleanly at " << text_of(Mm(*height))
                        << "; --all tells from which size each does.\n";
    for (const Row& row : rows)
        environment.out << row.face.family << ", " << row.face.style << ": strokes from "
                        << text_of(Mm(row.measure.stroke * *height)) << ", gaps from "
                        << text_of(Mm(row.measure.gap * *height)) << " at " << text_of(Mm(*height))
                        << "; prints cleanly from " << text_of(Mm(row.from_mm)) << "; " << row.measure.islands
                        << " islands\n";
    return Exit::done;
}

} // namespace touchmark::cli
