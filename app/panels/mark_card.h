// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/look.h"
#include "app/session/session.h"

namespace touchmark::panels {

class FaceSurvey;
class MarkValues;
class OutlineThumbnail;
class SeverityMark;

/// One mark: its true outline, what it says, how it is made, where it sits, its worst finding. Unfolds to its values
/// when selected.
class MarkCard : public Card {
    Q_OBJECT

public:
    MarkCard(session::Session& session, FaceSurvey& survey, QString mark, QWidget* parent = nullptr);
    void refresh();
    void set_unfolded(bool unfolded);
    [[nodiscard]] MarkValues* values() const { return values_; } ///< null while folded
    [[nodiscard]] const QString& mark() const { return mark_; }

protected:
    void keyPressEvent(QKeyEvent* event) override;

private:
    void build_head();
    void build_foot();
    void refresh_outline(const job::Mark& mark);
    void refresh_findings();
    void remove();
    void duplicate();

    session::Session& session_;
    FaceSurvey& survey_;
    QString mark_;
    OutlineThumbnail* thumbnail_;
    ElidedLabel *content_, *how_, *where_;
    SeverityMark* worst_;
    QWidget* body_ = nullptr;
    MarkValues* values_ = nullptr;
    std::shared_ptr<const void> drawn_;
};

} // namespace touchmark::panels
