// SPDX-License-Identifier: MIT

// The bodies that fill the pockets of an inlay flush.

#include "core/imprint/body_edit.h"
#include "core/imprint/general.h"
#include "core/imprint/sorted.h"

#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>

namespace touchmark::imprint {

Status BodyEdit::fill(Making& making, const Sorted& directly, std::span<const TopoDS_Shape> removed) {
    const Site& site = making.site;
    const auto [low, high] = site.extent;
    for (const Sorted::Share& share : directly.shares)
        for (const std::size_t i : share.regions) {
            const geometry::Region& region = site.outline.regions[i];
            const Result<TopoDS_Solid> body = prism_of(site, region, low, high);
            if (!body) return std::unexpected(body.error());
            fillers_.push_back({*body, making.index, volume_of(site, region)});
        }
    for (const TopoDS_Shape& body : removed) {
        GProp_GProps properties;
        BRepGProp::VolumeProperties(body, properties);
        fillers_.push_back({body, making.index, properties.Mass()});
    }
    return {};
}

} // namespace touchmark::imprint
