// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/combo.h"
#include "app/panels/face_survey.h"

#include <string>
#include <vector>

namespace touchmark::panels {

/// What the faces in the list are held against.
struct FaceDemand {
    double cap_height_mm = 5;
    int weight = 700;
    double least_stroke_mm = 0, clean_stroke_mm = 0; ///< of the process, for the mark's mode and zone
    double clean_gap_mm = 0;

    friend bool operator==(const FaceDemand&, const FaceDemand&) = default;
};

/// Font families: type to search anywhere in the name; each is shown in its own face with its narrowest stroke at the
/// size in hand. First those that print cleanly at the smallest size, by what was measured on them.
class FamilyBox : public Combo {
    Q_OBJECT

public:
    FamilyBox(const std::vector<std::string>& families, FaceSurvey* survey, QWidget* parent = nullptr);
    void set_family(const QString& family);
    void set_demand(const FaceDemand& demand);
    /// The families at the head of the list, best first.
    [[nodiscard]] const std::vector<std::string>& shortlist() const { return shortlist_; }
    void showPopup() override;

signals:
    void chosen(const QString& family);

protected:
    void focusOutEvent(QFocusEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    void take_typed();
    void fill();
    void add_heading(const QString& words);
    void add_family(const std::string& family);
    void show_measure(int row);
    void rank();

    std::vector<std::string> families_, shortlist_;
    FaceSurvey* survey_;
    FaceDemand demand_;
    QString family_;
};

} // namespace touchmark::panels
