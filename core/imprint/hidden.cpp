// SPDX-License-Identifier: MIT

// Closed voids under the face: shells of their own, which touch nothing.

#include "core/imprint/body_edit.h"
#include "core/imprint/check.h"
#include "core/imprint/general.h"
#include "core/imprint/sorted.h"

#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>

namespace touchmark::imprint {
namespace {

Result<TopoDS_Shell> hollow(const Site& site, const geometry::Region& region) {
    const Result<TopoDS_Solid> body = prism_of(site, region, site.extent.low, site.extent.high);
    if (!body) return std::unexpected(body.error());
    return TopoDS::Shell(TopExp_Explorer(*body, TopAbs_SHELL).Current().Reversed());
}

} // namespace

Status BodyEdit::hide(Making& making) {
    const Site& site = making.site;
    Result<Sorted> sorted = this->sorted(making.mark, site);
    if (!sorted) return std::unexpected(sorted.error());
    const Result<std::vector<std::size_t>> joined = joinable(making, *sorted);
    if (!joined) return std::unexpected(joined.error());
    if (sorted->crossing.size() > joined->size())
        return fail("imprint.outside",
                    "\"" + making.mark.name + "\" lies partly beside its face, where nothing would cover it.",
                    "Move it onto the face.");
    if (making.choice == RouteChoice::general) {
        sorted->send_all_to_the_boolean();
        making.result.route = Route::general;
        return cut_generally(making, sorted->crossing, prisms_of(making.mark, site));
    }
    std::vector<TopoDS_Shell> hollows;
    for (const geometry::Region& region : site.outline.regions) {
        Result<TopoDS_Shell> made = hollow(site, region);
        if (!made) return std::unexpected(made.error());
        hollows.push_back(*std::move(made));
        std::vector<TopoDS_Face> fresh;
        for (TopExp_Explorer face(hollows.back(), TopAbs_FACE); face.More(); face.Next())
            fresh.push_back(TopoDS::Face(face.Current()));
        if (const auto fault = fault_of({fresh, {}, true, false}, material_); !fault.empty()) return failed(fault);
        making.made.now.insert(making.made.now.end(), fresh.begin(), fresh.end());
        making.change -= volume_between(site, region, site.extent.low, site.extent.high);
    }
    solid_ = with_hollows(solid_, hollows);
    return {};
}

} // namespace touchmark::imprint
