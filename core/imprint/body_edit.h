// SPDX-License-Identifier: MIT
#pragma once

// One body while marks are put on it.

#include "core/imprint/imprint.h"
#include "core/part/shape.h"

#include <TopoDS_Face.hxx>

#include <span>
#include <vector>

namespace touchmark::imprint {

struct Site;

/// A face of the body and what it is by now; or the faces that a mark made.
struct Tracked {
    TopoDS_Shape original; ///< null for a mark's
    int face = -1;         ///< of the part, for one that carries marks
    int mark = -1;
    std::vector<TopoDS_Face> now;
};

class BodyEdit {
public:
    /// `faces`: all faces of the body that will carry marks.
    BodyEdit(const part::Part& part, int body, std::span<const int> faces);

    /// `index` names the mark in tracked(). Errors: "imprint.outside", "imprint.route", "imprint.failed",
    /// "surface.degenerate", "cancelled"; the body is then as before.
    [[nodiscard]] Result<MarkResult> apply(const Footprint& mark, int index, RouteChoice route,
                                           const Progress& progress);

    [[nodiscard]] int body() const { return body_; }
    [[nodiscard]] const TopoDS_Shape& solid() const { return solid_; }
    [[nodiscard]] const std::vector<Tracked>& tracked() const { return tracked_; }
    [[nodiscard]] double volume_change() const { return volume_change_; }

private:
    struct Sorted;
    [[nodiscard]] Result<Sorted> sorted(int face, const Site& site) const;
    [[nodiscard]] Status cut_directly(const Site& site, const Sorted& sorted, double offset, Tracked& made);
    [[nodiscard]] Status cut_generally(const Site& site, const Sorted& sorted, Mode mode, const Progress& progress,
                                       Tracked& made, double& change);
    [[nodiscard]] const Tracked& host(int face) const;

    const part::Part& part_;
    int body_;
    TopoDS_Shape solid_;
    std::vector<Tracked> tracked_;
    double volume_change_ = 0;
};

} // namespace touchmark::imprint
