// SPDX-License-Identifier: MIT
#include "tests/core/fitting/shop.h"

#include "core/print/fidelity.h"

#include <cmath>

namespace touchmark::fitting {
namespace {

bool comes_out(Item item, double size, const process::Process& process) {
    item.size_mm = size;
    const print::Printed printed = print_bar(item, process, Progress()).value();
    const double half = bar_length_mm(process) / 2;
    const Box2 box{{-size / 2, -half}, {size / 2, half}};
    const print::Fidelity judged = print::fidelity_of(printed, std::span(&box, 1))[0];
    return (item.kind == Kind::gap ? judged.gaps : judged.strokes) > 0.5;
}

} // namespace

const process::Process& standard() {
    static const auto loaded =
        process::load_process(std::filesystem::path(TOUCHMARK_RESOURCES) / "processes/fff-0.4.json").value();
    return loaded;
}

Shop::Shop(process::Process base, const Nature& nature)
    : process_(with_figures(std::move(base), nature.figures)), nature_(nature), items_(items_of(process_)) {
    for (std::size_t i = 0; i < items_.size(); ++i) {
        const Item& item = items_[i];
        if (item.kind != Kind::stroke && item.kind != Kind::gap) continue;
        if (!thresholds_.contains(item.name.front())) {
            double low = 0.02, high = 3;
            while (high - low > 1e-3)
                (comes_out(item, (low + high) / 2, process_) ? high : low) = (low + high) / 2;
            thresholds_[item.name.front()] = (low + high) / 2;
        }
        if (item.name.back() >= '8') widths_[i] = width_of(print_bar(item, process_, Progress()).value(), item);
    }
}

Sheet Shop::sheet(std::mt19937& chance) const {
    Sheet out;
    std::normal_distribution<double> normal;
    for (std::size_t i = 0; i < items_.size(); ++i) {
        const auto threshold = thresholds_.find(items_[i].name.front());
        if (threshold == thresholds_.end()) continue;
        Seen seen{i, i + 1, nature_.strips, 0};
        for (int strip = 0; strip < nature_.strips; ++strip)
            seen.came_out += items_[i].size_mm > threshold->second + nature_.spread_mm * normal(chance);
        if (const auto width = widths_.find(i); width != widths_.end())
            for (int k = 0; k < nature_.readings; ++k)
                seen.measured_mm.push_back(width->second + nature_.reading_mm * normal(chance));
        out.seen.push_back(std::move(seen));
    }
    return out;
}

} // namespace touchmark::fitting
