// SPDX-License-Identifier: MIT
#include "app/cli/report.h"
#include "app/cli/workspace.h"
#include "app/resources.h"
#include "core/pipeline/compare.h"
#include "core/run/fit.h"
#include "core/run/sentences.h"

#include <nlohmann/json.hpp>

namespace touchmark::cli {
namespace {

using nlohmann::ordered_json;
using run::Forecast;

/// Small chances in full: three decimals would be nothing.
double digits(double value) {
    if (value == 0) return 0;
    const double step = std::pow(10, std::floor(std::log10(std::abs(value))) - 3);
    return std::round(value / step) * step;
}

ordered_json json_of(const run::Interval& interval) {
    return {{"low", digits(interval.low)}, {"high", digits(interval.high)}};
}

ordered_json json_of(const print::Extra& extra) {
    ordered_json out{{"islands", extra.islands},
                     {"first_layer_islands", extra.first_layer_islands},
                     {"raised_islands", extra.raised_islands},
                     {"outlines", extra.outlines},
                     {"travels", extra.travels},
                     {"retractions", extra.retractions},
                     {"outline_mm", rounded(extra.outline_mm)},
                     {"unsupported_mm", rounded(extra.unsupported_mm)},
                     {"seconds", rounded(extra.seconds)}};
    if (extra.smallest_island_mm2) out["smallest_island_mm2"] = rounded(*extra.smallest_island_mm2);
    return out;
}

ordered_json json_of(const Forecast& forecast) {
    ordered_json shares = ordered_json::object();
    for (const run::Share& share : forecast.shares)
        shares[std::string(kind_of(share.event).key)] = digits(share.rejects);
    ordered_json out{{"chance", digits(forecast.chance)},
                     {"rejects", digits(forecast.rejects)},
                     {"rejects_95", json_of(forecast.rejects_interval)},
                     {"none", digits(forecast.none)},
                     {"planning_share", rounded(forecast.assumed_share)},
                     {"hours", rounded(forecast.hours)},
                     {"rejects_by_event", std::move(shares)}};
    if (forecast.chance_interval) out["chance_95"] = json_of(*forecast.chance_interval);
    if (const auto cost = forecast.cost()) out["cost"] = rounded(*cost);
    return out;
}

ordered_json json_of(const run::Rates& rates) {
    ordered_json out = ordered_json::parse(run::text_of(rates));
    out.erase("format");
    out.erase("version");
    return out;
}

ordered_json json_of(const pipeline::Alternative& one) {
    ordered_json out{{"title", one.title},
                     {"as_it_is", one.as_it_is},
                     {"mode", key_of(one.mode)},
                     {"face", one.face},
                     {"zone", key_of(one.zone)}};
    if (one.severity) out["finding"] = {{"severity", key_of(*one.severity)}, {"message", one.finding}};
    if (one.trouble) {
        out["trouble"] = one.trouble->message;
        return out;
    }
    out["verdict"] = key_of(one.verdict);
    out["figure"] = rounded(one.figure);
    out["extra"] = json_of(one.extra);
    out["forecast"] = json_of(one.forecast);
    return out;
}

void print_forecast(std::ostream& out, const std::string& who, const Forecast& forecast, const run::Rates& rates) {
    out << who << ": " << rejects_text(forecast) << ". " << run::time_text(forecast.seconds) << " longer a unit, "
        << run::time_text(3600 * forecast.hours) << " over the run.";
    if (const auto cost = forecast.cost()) out << " " << run::money_text(*cost, rates.costs) << '.';
    out << '\n';
    for (const run::Share& share : forecast.shares)
        out << "  " << share_text(share) << '\n';
}

void print_alternatives(std::ostream& out, const std::string& name, const std::vector<pipeline::Alternative>& all,
                        const run::Rates& rates) {
    out << "\nAlternatives to \"" << name << "\", the best first:\n";
    for (const pipeline::Alternative& one : all) {
        out << "  " << one.title << (one.as_it_is ? ", as it is: " : ": ");
        if (one.trouble) {
            out << one.trouble->message << '\n';
            continue;
        }
        out << outcome_words(one.verdict) << "; " << run::count_text(one.forecast.rejects) << " rejects ("
            << run::count_text(one.forecast.rejects_interval.low) << " to "
            << run::count_text(one.forecast.rejects_interval.high) << "), " << run::time_text(one.extra.seconds)
            << " longer a unit";
        if (const auto cost = one.forecast.cost()) out << ", " << run::money_text(*cost, rates.costs);
        out << ".\n";
        if (one.severity) out << "    " << title_of(*one.severity) << ": " << one.finding << '\n';
    }
}

struct Request {
    std::int64_t units = 0;
    run::Rates rates;
};

Result<Request> request_of(const Arguments& arguments) {
    Request out;
    const auto units = parse_index("--units", arguments.value("--units"));
    if (!units) return std::unexpected(units.error());
    if (*units < 1) return fail("cli.usage", "--units is less than 1.", "Give the units of the run.");
    out.units = *units;
    auto rates = run::load_rates(arguments.value_or("--rates", (resources_folder() / "rates/planning.json").string()));
    if (!rates) return std::unexpected(rates.error());
    out.rates = *std::move(rates);
    for (const auto& [option, figure] :
         {std::pair("--unit-cost", &out.rates.costs.unit), {"--machine-hour", &out.rates.costs.machine_hour}}) {
        if (!arguments.has(option)) continue;
        const auto amount = parse_number(option, arguments.value(option));
        if (!amount) return std::unexpected(amount.error());
        if (*amount < 0) return fail("cli.usage", std::string(option) + " is negative.", "Give what it costs.");
        *figure = *amount;
    }
    out.rates.costs.currency = arguments.value_or("--currency", out.rates.costs.currency);
    return out;
}

/// The rates by the shop's counts, when it has given any.
Result<run::Rates> counted(const Environment& environment, const Arguments& arguments, run::Rates rates,
                           const run::EventsOfMark& events) {
    if (!arguments.has("--counts")) return rates;
    const auto table = content::Table::read_file(arguments.value("--counts"));
    if (!table) return std::unexpected(table.error());
    const auto counts = run::read_counts(**table, events);
    if (!counts) return std::unexpected(counts.error());
    if (!arguments.has("--json"))
        for (const std::string& column : counts->ignored)
            environment.out << "The column \"" << column << "\" of the counts is not used.\n";
    auto fitted = run::fitted(rates, *counts);
    if (fitted && arguments.has("--save-rates"))
        if (const Status saved = run::save_rates(*fitted, arguments.value("--save-rates")); !saved)
            return std::unexpected(saved.error());
    return fitted;
}

const job::Mark* mark_named(const job::Job& job, const std::string& name) {
    const auto found = std::ranges::find(job.marks, name, &job::Mark::name);
    return found == job.marks.end() ? nullptr : &*found;
}

} // namespace

std::vector<Option> run_cost_options() {
    return {
        {"--units", "N", "How many units the run has.", true},
        {"--rates", "FILE.json", "Event rates of the shop; without it the planning figures that come along.", false},
        {"--counts", "FILE.csv", "What the shop has printed and rejected; the rates are fitted to it.", false},
        {"--save-rates", "FILE.json", "Writes the fitted rates; needs --counts.", false},
        {"--unit-cost", "AMOUNT", "What a unit costs that is thrown away.", false},
        {"--machine-hour", "AMOUNT", "What an hour of the printer costs.", false},
        {"--currency", "TEXT", "What the amounts are in; EUR without it.", false},
        {"--compare", "MARK", "Holds this mark against itself made other ways and on other faces.", false},
        {"--json", "", "Prints one JSON object instead of sentences.", false}};
}

Exit run_run_cost(const Environment& environment, const Arguments& arguments) {
    const auto usage = [&](std::string message, std::string hint) {
        return complain(environment, {"cli.usage", std::move(message), std::move(hint)}, Exit::usage);
    };
    if (arguments.has("--save-rates") && !arguments.has("--counts"))
        return usage("--save-rates has nothing to write.", "Give the shop's counts with --counts.");
    auto request = request_of(arguments);
    if (!request)
        return complain(environment, request.error(), request.error().code == "cli.usage" ? Exit::usage : Exit::input);
    const auto opened = open_job(environment, arguments.operand(0));
    if (!opened) return complain(environment, opened.error().error, opened.error().exit);
    const job::Job& job = opened->job;
    Workspace& workspace = *opened->workspace;
    const job::Mark* compared = arguments.has("--compare") ? mark_named(job, arguments.value("--compare")) : nullptr;
    if (arguments.has("--compare") && !compared)
        return usage("The job has no such mark.", "See the job's file for their names.");

    const auto evaluation = workspace.evaluator.evaluate(job, workspace.around, Progress());
    if (!evaluation) return complain(environment, evaluation.error(), Exit::not_made);
    const auto extras = pipeline::extras_of(**evaluation, process_of(workspace, job), Progress());
    if (!extras) return complain(environment, extras.error(), Exit::not_made);
    const auto rates = counted(environment, arguments, request->rates, pipeline::events_by_name(job, *extras));
    if (!rates) return complain(environment, rates.error(), Exit::input);

    ordered_json marks = ordered_json::array();
    const bool as_json = arguments.has("--json");
    for (std::size_t i = 0; i < extras->size(); ++i) {
        const pipeline::MarkExtra& mark = (*extras)[i];
        const std::string& name = job.marks[i].name;
        if (mark.trouble) {
            if (!as_json) environment.out << '"' << name << "\": " << mark.trouble->message << '\n';
            marks.push_back({{"mark", name}, {"trouble", mark.trouble->message}});
            continue;
        }
        const Forecast forecast = run::forecast(*mark.extra, *rates, request->units);
        if (!as_json) print_forecast(environment.out, '"' + name + '"', forecast, *rates);
        marks.push_back({{"mark", name}, {"extra", json_of(*mark.extra)}, {"forecast", json_of(forecast)}});
    }
    const print::Extra sum = pipeline::sum_of(*extras);
    const Forecast whole = run::forecast(sum, *rates, request->units);
    ordered_json object{{"units", request->units},
                        {"rates", json_of(*rates)},
                        {"marks", std::move(marks)},
                        {"whole", {{"extra", json_of(sum)}, {"forecast", json_of(whole)}}}};
    if (!as_json) {
        if (job.marks.size() > 1) print_forecast(environment.out, "All marks", whole, *rates);
        environment.out << grounds_text(whole) << '\n';
        if (whole.chance > 0)
            environment.out << "It takes about " << run::about_text(run::clean_units_for(whole.chance))
                            << " units without a reject to show that it is no more than that.\n";
    }
    if (compared) {
        const auto all = pipeline::compare(workspace.evaluator, job, compared->id, workspace.around, *rates,
                                           request->units, {}, Progress());
        if (!all) return complain(environment, all.error(), Exit::not_made);
        if (!as_json) print_alternatives(environment.out, compared->name, *all, *rates);
        auto list = ordered_json::array();
        for (const pipeline::Alternative& one : *all)
            list.push_back(json_of(one));
        object["alternatives"] = std::move(list);
    }
    if (as_json) print_json(environment.out, object);
    return Exit::done;
}

} // namespace touchmark::cli
