// SPDX-License-Identifier: MIT
#pragma once

// One body while marks are put on it.

#include "core/imprint/imprint.h"
#include "core/imprint/local_check.h"
#include "core/part/shape.h"

#include <TopoDS_Face.hxx>

#include <span>
#include <vector>

namespace touchmark::imprint {

struct FarSide;
struct Prisms;
struct Site;
struct Sorted;

/// A face of the body and what it is by now; or the faces that a mark made.
struct Tracked {
    TopoDS_Shape original; ///< null for a mark's
    int face = -1;         ///< of the part, for one that carries marks
    int mark = -1;
    std::vector<TopoDS_Face> now;
};

/// Where `old` stands, `by` stands from now on.
void replace_in(std::vector<Tracked>& tracked, const TopoDS_Face& old, const std::vector<TopoDS_Face>& by);

class BodyEdit {
public:
    /// `faces`: all faces of the body that will carry marks.
    /// `material`: of the body as it was; what is made is held against it.
    BodyEdit(const part::Part& part, int body, std::span<const int> faces, const Material& material);

    /// `index` names the mark in tracked(); `far`: of Mode::through, else nullptr. Errors: "imprint.outside",
    /// "imprint.route", "imprint.loose", "imprint.failed", "surface.degenerate", "cancelled"; the body is then as
    /// before.
    [[nodiscard]] Result<MarkResult> apply(const Footprint& mark, int index, RouteChoice route, const FarSide* far,
                                           const Progress& progress);

    [[nodiscard]] int body() const { return body_; }
    [[nodiscard]] const TopoDS_Shape& solid() const { return solid_; }
    [[nodiscard]] const std::vector<Tracked>& tracked() const { return tracked_; }
    [[nodiscard]] double volume_change() const { return volume_change_; }
    /// Bodies of their own that fill pockets flush.
    struct Filler {
        TopoDS_Shape solid; ///< in the product's coordinates
        int mark = -1;
        double volume = 0;
    };
    [[nodiscard]] const std::vector<Filler>& fillers() const { return fillers_; }

private:
    /// A mark while it is made.
    struct Making {
        const Footprint& mark;
        const Site& site;
        int index;
        RouteChoice choice;
        const Progress& progress;
        MarkResult result = {};
        Tracked made = {};
        double change = 0; ///< mm³ in the product
    };
    [[nodiscard]] Status make(Making& making, const FarSide* far);
    [[nodiscard]] Status emboss(Making& making); ///< engrave, raise, inlay
    [[nodiscard]] Status hide(Making& making);
    [[nodiscard]] Status cut_through(Making& making, const FarSide& far);
    [[nodiscard]] Result<bool> open_directly(Making& making, const FarSide& far);
    [[nodiscard]] Status fill(Making& making, const Sorted& directly, std::span<const TopoDS_Shape> removed);

    [[nodiscard]] Result<Sorted> sorted(const Footprint& mark, const Site& site) const;
    /// All that is left of the faces that the mark's map runs over.
    [[nodiscard]] std::vector<TopoDS_Face> hosts(const Footprint& mark) const;
    /// Those of the crossing regions that cross only edges between the hosts.
    [[nodiscard]] Result<std::vector<std::size_t>> joinable(const Making& making, const Sorted& sorted) const;
    [[nodiscard]] Status cut_joined(Making& making, std::span<const std::size_t> regions);
    [[nodiscard]] Status cut_directly(Making& making, const Sorted& sorted);
    [[nodiscard]] Status cut_generally(Making& making, std::span<const std::size_t> regions, const Prisms& prisms,
                                       std::vector<TopoDS_Shape>* removed = nullptr);
    [[nodiscard]] const Tracked& host(int face) const;

    const part::Part& part_;
    int body_;
    Material material_;
    TopoDS_Shape solid_;
    std::vector<Tracked> tracked_;
    std::vector<Filler> fillers_;
    double volume_change_ = 0;
};

} // namespace touchmark::imprint
