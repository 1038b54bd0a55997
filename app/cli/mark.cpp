// SPDX-License-Identifier: MIT
#include "app/cli/workspace.h"
#include "core/job/job_file.h"
#include "core/job/parameter.h"

#include <algorithm>

namespace touchmark::cli {
namespace {

namespace fs = std::filesystem;
using Kind = job::Parameter::Kind;

std::string value_name(const job::Parameter& parameter) {
    switch (parameter.kind) {
    case Kind::length:
        return "MM";
    case Kind::angle:
        return "DEG";
    case Kind::factor:
        return "FACTOR";
    case Kind::text:
        return "TEXT";
    case Kind::family:
        return "FAMILY";
    case Kind::choice:
        break;
    }
    std::string keys;
    for (const auto& [key, title] : parameter.choices)
        keys += (keys.empty() ? "" : "|") + std::string(key);
    return keys;
}

Result<job::Value> value_of(const job::Parameter& parameter, std::string_view text) {
    const auto as_value = [](Result<double> number) -> Result<job::Value> {
        if (!number) return std::unexpected(number.error());
        return *number;
    };
    switch (parameter.kind) {
    case Kind::length:
        return as_value(parse_length(parameter.option, text));
    case Kind::angle:
        return as_value(parse_angle(parameter.option, text));
    case Kind::factor:
        return as_value(parse_number(parameter.option, text));
    case Kind::text:
        return unescaped(text);
    case Kind::choice:
    case Kind::family:
        break;
    }
    return std::string(text);
}

/// Each says the message and how it is written.
struct CodeOption {
    std::string_view option, symbology, help;
};
constexpr CodeOption code_options[] = {
    {"--data-matrix", "data_matrix", "A Data Matrix with this message instead of lettering."},
    {"--qr", "qr", "A QR code with this message."},
    {"--code128", "code_128", "A Code 128 with this message."},
    {"--gs1", "gs1_data_matrix", "A GS1 DataMatrix of these elements, for instance (01)09521234543213(10)LOT48."},
};

Result<job::Job> with_code(job::Job job, const Arguments& arguments) {
    for (const CodeOption& row : code_options) {
        if (!arguments.has(row.option)) continue;
        for (const auto& [key, value] : {std::pair<std::string_view, std::string>{"kind", "code"},
                                         {"symbology", std::string(row.symbology)},
                                         {"text", unescaped(arguments.value(row.option))}}) {
            auto edited = job::set_parameter(std::move(job), job.marks.front().id, key, value);
            if (!edited) return edited;
            job = *std::move(edited);
        }
    }
    return job;
}

/// What the mark says comes from exactly one option.
Status says_something(const Arguments& arguments) {
    int given = arguments.has("--text");
    std::string all = "'--text'";
    for (const CodeOption& row : code_options) {
        given += arguments.has(row.option);
        all += (&row == std::prev(std::end(code_options)) ? " and '" : ", '") + std::string(row.option) + "'";
    }
    if (given == 1) return {};
    return fail("cli.usage", "A mark takes one of " + all + ".");
}

/// The mark as the options describe it, not yet on a face.
Result<job::Job> with_options(job::Job job, const Arguments& arguments) {
    for (const job::Parameter& parameter : job::parameters()) {
        if (parameter.option.empty() || !arguments.has(parameter.option)) continue;
        auto value = value_of(parameter, arguments.value(parameter.option));
        if (!value) return std::unexpected(value.error());
        auto edited = job::set_parameter(std::move(job), job.marks.front().id, parameter.key, *std::move(value));
        if (!edited) return std::unexpected(edited.error());
        job = *std::move(edited);
    }
    return job;
}

Result<job::Job> job_from(const Arguments& arguments) {
    if (const Status says = says_something(arguments); !says) return std::unexpected(says.error());
    job::Job job;
    std::error_code unknown;
    job.part.file = fs::absolute(arguments.operand(0), unknown);
    job::Mark mark;
    const auto face = parse_index("--face", arguments.value("--face"));
    if (!face) return std::unexpected(face.error());
    mark.anchor.face = *face;
    if (arguments.has("--at")) {
        const auto at = parse_point("--at", arguments.value("--at"));
        if (!at) return std::unexpected(at.error());
        mark.anchor.at = *at;
    }
    content::Text text;
    if (arguments.has("--bold") && arguments.has("--regular"))
        return fail("cli.usage", "'--bold' and '--regular' exclude each other.");
    if (arguments.has("--regular")) text.weight = 400;
    mark.content = text;
    if (arguments.has("--down")) {
        const auto down = parse_direction("--down", arguments.value("--down"));
        if (!down) return std::unexpected(down.error());
        job.pose.down = *down;
    }
    job.process = arguments.value_or("--process", std::string(standard_process));
    auto added = job::add_mark(std::move(job), std::move(mark));
    if (!added) return added;
    auto coded = with_code(*std::move(added), arguments);
    if (!coded) return coded;
    return with_options(*std::move(coded), arguments);
}

/// The face has to be there and have a map; its fingerprint goes into the job.
Status bind(job::Job& job, const part::Part& part) {
    job::Anchor& anchor = job.marks.front().anchor;
    if (const auto map = surface::map_face(part, anchor.face); !map) return std::unexpected(map.error());
    anchor.fingerprint = part.faces()[static_cast<std::size_t>(anchor.face)].fingerprint;
    job.part.digest = part.digest();
    return {};
}

} // namespace

std::vector<Option> mark_options() {
    std::vector<Option> options{{"--face", "N", "Index of the face, see touchmark-cli faces.", true}};
    for (const job::Parameter& parameter : job::parameters()) {
        if (parameter.option.empty()) continue;
        options.push_back({std::string(parameter.option), value_name(parameter), std::string(parameter.help), false});
        if (parameter.key == "text")
            for (const CodeOption& row : code_options)
                options.push_back({std::string(row.option), "MESSAGE", std::string(row.help), false});
        if (parameter.key == "family") {
            options.push_back({"--bold", "", "Bold lettering; the default.", false});
            options.push_back({"--regular", "", "Regular lettering.", false});
        }
    }
    options.push_back({"--at", "U,V", "Place, mm from the centre of the largest rectangle that fits the face.", false});
    options.push_back(
        {"--down", "X,Y,Z", "Direction of the part's file that points to the plate; 0,0,-1 by default.", false});
    options.push_back({"--process", "NAME", "Process profile, see touchmark-cli processes.", false});
    options.push_back({"--job", "OUT.json", "Also writes the job, to be opened or applied again.", false});
    std::ranges::move(output_options(), std::back_inserter(options));
    return options;
}

Exit run_mark(const Environment& environment, const Arguments& arguments) {
    auto job = job_from(arguments);
    if (!job) return complain(environment, job.error(), Exit::usage);
    auto workspace = open_workspace(environment, job->part.file);
    if (!workspace) return complain(environment, workspace.error().error, workspace.error().exit);
    Workspace& open = **workspace;
    if (const auto known = known_process(*open.around.processes, job->process); !known)
        return complain(environment, known.error(), Exit::usage);
    if (const Status bound = bind(*job, *open.around.part); !bound)
        return complain(environment, bound.error(), Exit::input);
    const Exit exit = deliver(environment, arguments, open, *job);
    if (exit != Exit::done && exit != Exit::done_with_blockers) return exit;
    if (arguments.has("--job")) {
        std::error_code unknown;
        if (const Status saved = job::save_job(*job, fs::absolute(arguments.value("--job"), unknown)); !saved)
            return complain(environment, saved.error(), Exit::not_made);
    }
    return exit;
}

} // namespace touchmark::cli
