// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/look.h"
#include "core/process/adjustment.h"

class QPlainTextEdit;
class QPushButton;
class QVBoxLayout;

namespace touchmark::panels {

class Combo;
class QuantityField;
class WedgeRows;

/// One figure of a profile, to be read and changed: value, source, whether it is assumed, and what the base says. A new
/// value asks for a source of its own. Of the step wedge: its steps.
class FigureCard : public Card {
    Q_OBJECT

public:
    explicit FigureCard(QWidget* parent = nullptr);
    /// `own`: whether the profile is the user's, so that a change stays in it; else it becomes a new one.
    void show_figure(const std::string& key, const process::Process& process, const process::Process* base, bool own);
    void show_nothing();

signals:
    void keep_asked(const touchmark::process::Adjustment& adjustment);
    void keep_wedge_asked(const std::vector<touchmark::process::WedgeStep>& steps, const std::string& source);
    void back_asked(const std::string& key); ///< as in the base

private:
    void build();
    void show_source(const process::Sourced& figure);
    void show_base(const process::Process* base);
    void make_value_field(const process::Sourced& figure);
    void keep();
    void refresh_buttons();
    void say(const QString& trouble);
    [[nodiscard]] QString typed_source() const;

    std::string key_;
    process::Sourced shown_;
    bool differs_ = false, filling_ = false;
    QLabel *title_, *where_, *help_, *base_, *base_source_, *note_, *trouble_;
    QWidget* value_row_;
    QLabel *value_label_, *source_label_;
    QuantityField* value_ = nullptr;
    QPlainTextEdit* source_;
    Combo* kind_;
    WedgeRows* wedge_;
    QPushButton *keep_, *back_;
};

} // namespace touchmark::panels
