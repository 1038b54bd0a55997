// SPDX-License-Identifier: MIT
#include "core/fitting/outlook.h"

#include "core/fitting/strip.h"
#include "core/imprint/clearance.h"
#include "core/pipeline/printing.h"

#include <algorithm>
#include <map>

namespace touchmark::fitting {
namespace {

/// The strip as it lies on the plate, ready for its marks to be printed one by one.
class Bench {
public:
    static Result<Bench> of(const process::Process& process, const Progress& progress) {
        Bench out;
        auto strip = strip_for(process, progress);
        if (!strip) return std::unexpected(strip.error());
        out.strip_ = *std::move(strip);
        const auto meshes = part::tessellate(*out.strip_.blank, {}, progress);
        if (!meshes) return std::unexpected(meshes.error());
        out.placement_ = plate::placement_of(out.strip_.job.pose, *meshes);
        auto obstacles = imprint::Obstacles::of(*out.strip_.blank, {}, progress);
        if (!obstacles) return std::unexpected(obstacles.error());
        out.obstacles_ = *std::move(obstacles);
        return out;
    }

    [[nodiscard]] Result<pipeline::PrintOrder> order(const Item& item, const content::FontLibrary& fonts) const {
        const job::Mark& mark = *std::ranges::find(strip_.job.marks, item.name, &job::Mark::name);
        auto drawn = content::draw(mark.content, fonts);
        if (!drawn) return std::unexpected(drawn.error());
        auto map = surface::map_face(*strip_.blank, mark.anchor.face);
        if (!map) return std::unexpected(map.error());
        pipeline::PrintOrder order{&mark,      mark.content, std::make_shared<const content::Drawn>(*std::move(drawn)),
                                   *map,       item.zone,    {},
                                   placement_, {},           0};
        if (mark.mode == Mode::hidden) order.obstacles = obstacles_;
        return order;
    }

private:
    Strip strip_;
    plate::Placement placement_;
    std::shared_ptr<const imprint::Obstacles> obstacles_;
};

} // namespace

bool Outlook::as_seen(print::Verdict verdict) const {
    if (verdict == print::Verdict::at_risk) return true;
    return (2 * came_out > printed) == (verdict == print::Verdict::reads);
}

Result<std::vector<Outlook>> outlook(const Fit& fit, std::span<const Item> items, const Sheet& sheet,
                                     const content::FontLibrary& fonts, const Progress& progress) {
    std::vector<const Seen*> looked;
    for (const Seen& seen : sheet.seen)
        if (seen.printed > 0 && (items[seen.item].kind == Kind::text || items[seen.item].kind == Kind::code))
            looked.push_back(&seen);
    std::vector<Outlook> out;
    if (looked.empty()) return out;
    const auto bench = Bench::of(fit.base, progress);
    if (!bench) return std::unexpected(bench.error());
    const process::Process fitted = fit.fitted();
    std::map<std::size_t, std::pair<print::Verdict, print::Verdict>> known; // of an item with several rows
    for (const Seen* seen : looked) {
        progress.report(static_cast<double>(out.size()) / static_cast<double>(looked.size()),
                        "Printing text and codes in simulation");
        if (!known.contains(seen->item)) {
            const auto order = bench->order(items[seen->item], fonts);
            if (!order) return std::unexpected(order.error());
            const auto before = pipeline::print_mark(*order, fit.base, progress);
            if (!before) return std::unexpected(before.error());
            const auto after = pipeline::print_mark(*order, fitted, progress);
            if (!after) return std::unexpected(after.error());
            known[seen->item] = {before->verdict(), after->verdict()};
        }
        const auto& [before, after] = known[seen->item];
        out.push_back({seen->item, seen->line, seen->printed, seen->came_out, before, after});
    }
    return out;
}

} // namespace touchmark::fitting
