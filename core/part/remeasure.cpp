// SPDX-License-Identifier: MIT
#include "core/base/parallel.h"
#include "core/part/part_data.h"

#include <Standard_Failure.hxx>
#include <TopTools_DataMapOfOrientedShapeInteger.hxx>

namespace touchmark::part {
namespace {

struct Place {
    std::size_t product = 0, body = 0, face = 0;
};

/// The measured faces of a part by what they are: shape, location and orientation in the product.
class Known {
public:
    explicit Known(const Part::Impl& origin) : origin_(origin) {
        for (std::size_t p = 0; p < origin.layout.products.size(); ++p)
            for (std::size_t b = 0; b < origin.layout.products[p].size(); ++b)
                for (std::size_t f = 0; f < shape({p, b, 0}).faces.size(); ++f) {
                    index_.Bind(shape({p, b, 0}).faces[f], static_cast<int>(places_.size()));
                    places_.push_back({p, b, f});
                }
    }
    [[nodiscard]] const Place* find(const TopoDS_Face& face) const {
        const int* at = index_.Seek(face);
        return at ? &places_[static_cast<std::size_t>(*at)] : nullptr;
    }
    [[nodiscard]] const ProductBody& shape(const Place& at) const {
        return origin_.layout.products[at.product][at.body];
    }
    [[nodiscard]] const BodyMeasure& body(const Place& at) const { return origin_.measures[at.product][at.body]; }

private:
    const Part::Impl& origin_;
    TopTools_DataMapOfOrientedShapeInteger index_;
    std::vector<Place> places_;
};

struct Work {
    const TopoDS_Face* face;
    Vec3 about;
    FaceMeasure measure;
};

/// A body as far as the origin knows it, and what is to be measured for the rest.
struct Draft {
    std::vector<std::size_t> fresh;   ///< faces of the new body that are unknown
    std::vector<std::size_t> work;    ///< where their work is
    std::vector<std::size_t> removed; ///< work for faces of the old body that are gone
};

Draft draft_of(const ProductBody& body, const Known& known, BodyMeasure& measure, std::vector<Work>& work) {
    Draft draft;
    measure.faces.resize(body.faces.size());
    const Place* base = nullptr;
    std::vector<char> kept;
    for (std::size_t f = 0; f < body.faces.size(); ++f) {
        const Place* at = known.find(body.faces[f]);
        if (!at) {
            draft.fresh.push_back(f);
            continue;
        }
        if (!base) {
            base = at;
            kept.assign(known.shape(*base).faces.size(), 0);
        }
        measure.faces[f] = known.body(*at).faces[at->face];
        if (at->product == base->product && at->body == base->body) kept[at->face] = 1;
    }
    // The changed faces' shares are taken about a point among them: what is far away then cancels exactly.
    Vec3 about;
    if (base) {
        measure.volume = known.body(*base).volume;
        measure.valid = known.body(*base).valid;
        for (std::size_t f = 0; f < kept.size(); ++f)
            if (!kept[f]) about = known.body(*base).faces[f].centroid;
        for (std::size_t f = 0; f < kept.size(); ++f)
            if (!kept[f]) {
                draft.removed.push_back(work.size());
                work.push_back({&known.shape(*base).faces[f], about, {}});
            }
    }
    for (const std::size_t f : draft.fresh) {
        draft.work.push_back(work.size());
        work.push_back({&body.faces[f], about, {}});
    }
    return draft;
}

} // namespace

Measures remeasure(const Layout& layout, const Part& origin, const Progress& progress) {
    const Known known(origin.impl());
    Measures measures(layout.products.size());
    std::vector<Work> work;
    std::vector<Draft> drafts;
    for (std::size_t p = 0; p < layout.products.size(); ++p) {
        measures[p].resize(layout.products[p].size());
        for (std::size_t b = 0; b < layout.products[p].size(); ++b)
            drafts.push_back(draft_of(layout.products[p][b], known, measures[p][b], work));
    }
    constexpr std::size_t large = 4; // the changed faces come first
    side_by_side_in_blocks(work.size(), large, [&](std::size_t i) {
        Work& item = work[i];
        if (progress.cancelled()) return;
        try {
            item.measure = measure_face(*item.face, item.about);
        } catch (const Standard_Failure&) { // stays without size
        }
    });
    std::size_t next = 0;
    for (auto& product : measures)
        for (BodyMeasure& body : product) {
            const Draft& draft = drafts[next++];
            for (const std::size_t i : draft.removed)
                body.volume -= work[i].measure.volume;
            for (std::size_t i = 0; i < draft.fresh.size(); ++i) {
                body.faces[draft.fresh[i]] = work[draft.work[i]].measure;
                body.volume += work[draft.work[i]].measure.volume;
            }
        }
    return measures;
}

} // namespace touchmark::part
