// SPDX-License-Identifier: MIT
#include "core/part/block_part.h"

#include "core/part/guard.h"
#include "core/part/shape.h"

#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <ShapeUpgrade_UnifySameDomain.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>

#include <algorithm>

namespace touchmark::part {
namespace {

std::unexpected<Error> not_one(const std::string& why) {
    return fail("part.blocks", "The blocks make no part: " + why + ".");
}

Result<TopoDS_Shape> united(std::span<const Box3> blocks) {
    TopTools_ListOfShape first, others;
    for (const Box3& block : blocks) {
        const Vec3 size = block.size();
        if (block.empty() || std::min({size.x, size.y, size.z}) <= 0) return not_one("one of them has no volume");
        const gp_Pnt low(block.low.x, block.low.y, block.low.z), high(block.high.x, block.high.y, block.high.z);
        (first.IsEmpty() ? first : others).Append(BRepPrimAPI_MakeBox(low, high).Solid());
    }
    if (first.IsEmpty()) return not_one("there are none");
    TopoDS_Shape whole = first.First();
    if (!others.IsEmpty()) {
        BRepAlgoAPI_Fuse fuse;
        fuse.SetArguments(first);
        fuse.SetTools(others);
        fuse.Build();
        if (!fuse.IsDone() || fuse.HasErrors()) return not_one("they cannot be united");
        ShapeUpgrade_UnifySameDomain unify(fuse.Shape());
        unify.Build();
        whole = unify.Shape();
    }
    TopExp_Explorer solids(whole, TopAbs_SOLID);
    if (!solids.More()) return not_one("they are no solid");
    TopoDS_Shape solid = solids.Current();
    solids.Next();
    if (solids.More()) return not_one("they do not touch");
    if (!BRepCheck_Analyzer(solid).IsValid()) return not_one("they are no valid solid");
    return solid;
}

} // namespace

Result<PartPtr> block_part(std::string name, std::span<const Box3> blocks, const Progress& progress) {
    return guarded("part.blocks", "Making a part of blocks", [&]() -> Result<PartPtr> {
        Result<TopoDS_Shape> solid = united(blocks);
        if (!solid) return std::unexpected(solid.error());
        Digester digester;
        digester.add("blocks").add(name).add(blocks.size());
        for (const Box3& block : blocks)
            for (const Vec3 corner : {block.low, block.high})
                digester.add(corner.x).add(corner.y).add(corner.z);
        Model model;
        Product product;
        product.name = model.name = std::move(name);
        product.shape = *std::move(solid);
        model.products.push_back(std::move(product));
        model.roots.emplace_back();
        return make_part(std::move(model), digester.digest(), progress);
    });
}

} // namespace touchmark::part
