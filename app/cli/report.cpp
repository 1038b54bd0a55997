// SPDX-License-Identifier: MIT
#include "app/cli/report.h"

#include <nlohmann/json.hpp>

namespace touchmark::cli {

using Json = nlohmann::ordered_json;

std::string_view outcome_words(print::Verdict verdict) {
    switch (verdict) {
    case print::Verdict::reads:
        return "comes out clean";
    case print::Verdict::at_risk:
        return "is at risk";
    default:
        return "is lost";
    }
}

Json findings_json(std::span<const rules::Finding> findings) {
    Json list = Json::array();
    for (const rules::Finding& finding : findings) {
        Json where = Json::array(), fixes = Json::array();
        for (const Vec2 spot : finding.where)
            where.push_back({spot.x, spot.y});
        for (const rules::Fix& fix : finding.fixes)
            fixes.push_back({{"id", fix.id}, {"title", fix.title}});
        Json entry{{"rule", finding.rule},       {"severity", key_of(finding.severity)},
                   {"mark", finding.mark},       {"figure", finding.figure},
                   {"limit", finding.limit},     {"unit", finding.unit},
                   {"message", finding.message}, {"why", finding.why},
                   {"source", finding.source}};
        if (finding.comfortable) entry["comfortable"] = *finding.comfortable;
        entry["where"] = std::move(where);
        entry["fixes"] = std::move(fixes);
        list.push_back(std::move(entry));
    }
    return list;
}

void print_findings(std::ostream& out, std::span<const rules::Finding> findings) {
    if (findings.empty()) out << "Nothing to say: strokes, gaps, depth, place and margins are all clean.\n";
    for (const rules::Finding& finding : findings) {
        out << title_of(finding.severity) << ": " << (finding.mark.empty() ? "" : finding.mark + ": ")
            << finding.message << '\n';
        for (const rules::Fix& fix : finding.fixes)
            out << "    " << fix.title << '\n';
    }
}

void print_json(std::ostream& out, const Json& object) {
    out << object.dump(-1, ' ', false, Json::error_handler_t::replace) << '\n';
}

} // namespace touchmark::cli
