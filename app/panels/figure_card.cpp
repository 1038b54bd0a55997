// SPDX-License-Identifier: MIT
#include "app/panels/figure_card.h"

#include "app/panels/combo.h"
#include "app/panels/figure_ledger.h"
#include "app/panels/quantity_field.h"
#include "app/panels/wedge_rows.h"
#include "core/process/figures.h"

#include <QHBoxLayout>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QVBoxLayout>
#include <cmath>

namespace touchmark::panels {
namespace {

enum Kind { found, assumed };

/// A twentieth of the figure, on a round step.
double step_of(double value) {
    if (value <= 0) return 0.05;
    const double decade = std::pow(10, std::floor(std::log10(value)) - 1);
    return value / decade >= 50 ? 5 * decade : value / decade >= 20 ? 2 * decade : decade;
}

QLabel* quiet_label(QWidget* parent) {
    QLabel* label = wrapping_label(parent);
    make_quiet(*label);
    return label;
}

} // namespace

FigureCard::FigureCard(QWidget* parent)
    : Card(parent), title_(wrapping_label(this)), where_(wrapping_label(this)), help_(quiet_label(this)),
      base_(wrapping_label(this)), base_source_(quiet_label(this)), note_(quiet_label(this)),
      trouble_(wrapping_label(this)), value_row_(new QWidget(this)), value_label_(new QLabel(value_row_)),
      source_label_(new QLabel(tr("Source"), this)), source_(new QPlainTextEdit(this)), kind_(new Combo(this)),
      wedge_(new WedgeRows(this)), keep_(new QPushButton(tr("Keep"), this)), back_(new QPushButton(this)) {
    setAccessibleName(tr("The figure"));
    setFocusPolicy(Qt::NoFocus);
    title_->setFont(strong_font(*title_));
    build();
    show_nothing();
}

void FigureCard::build() {
    source_->setAccessibleName(tr("Source"));
    source_->setTabChangesFocus(true);
    source_label_->setBuddy(source_);
    source_->setFixedHeight(4 * source_->fontMetrics().lineSpacing() + 2 * grid);
    source_->setPlaceholderText(tr("Where it comes from: a test strip and its date, a text and its page"));
    kind_->setAccessibleName(tr("Kind of source"));
    kind_->addItems({tr("Measured or published"), tr("Assumed")});
    keep_->setProperty("look", "primary");
    keep_->setAutoDefault(false);
    back_->setAutoDefault(false);
    auto* value_layout = new QHBoxLayout(value_row_);
    value_layout->setContentsMargins(0, 0, 0, 0);
    value_layout->setSpacing(grid);
    value_layout->addWidget(value_label_, 1);
    auto* buttons = new QHBoxLayout;
    buttons->setSpacing(grid);
    buttons->addWidget(keep_);
    buttons->addWidget(back_);
    buttons->addStretch();
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(card_inset, card_inset, card_inset, card_inset);
    layout->setSpacing(grid);
    for (QWidget* widget : std::initializer_list<QWidget*>{title_, where_, help_, value_row_, wedge_, source_label_,
                                                           source_, kind_, trouble_})
        layout->addWidget(widget);
    layout->addLayout(buttons);
    for (QWidget* widget : std::initializer_list<QWidget*>{note_, base_, base_source_})
        layout->addWidget(widget);
    connect(source_, &QPlainTextEdit::textChanged, this, &FigureCard::refresh_buttons);
    connect(kind_, &QComboBox::currentIndexChanged, this, &FigureCard::refresh_buttons);
    connect(wedge_, &WedgeRows::changed, this, &FigureCard::refresh_buttons);
    connect(keep_, &QPushButton::clicked, this, &FigureCard::keep);
    connect(back_, &QPushButton::clicked, this, [this] { emit back_asked(key_); });
}

void FigureCard::show_nothing() {
    key_.clear();
    setVisible(false);
}

void FigureCard::make_value_field(const process::Sourced& figure) {
    const auto kind = process::kind_of(key_);
    delete value_;
    value_ = new QuantityField({.measure = kind->unit == "mm"    ? Measure::length
                                           : kind->unit == "deg" ? Measure::angle
                                                                 : Measure::plain,
                                .unit = kind->unit == "deg" ? QStringLiteral("°") : text(kind->unit),
                                .least = kind->least,
                                .most = kind->most,
                                .step = step_of(figure.value)},
                               value_row_);
    value_->setFixedWidth(128);
    value_->set_value(figure.value);
    value_->setAccessibleName(tr("Value"));
    value_->show();
    value_row_->layout()->addWidget(value_);
    value_label_->setBuddy(value_);
    setTabOrder(value_, source_);
    connect(value_, &QuantityField::trouble, this, &FigureCard::say);
    connect(value_, &QuantityField::changed_to, this, [this](double value) {
        // The old source speaks of the old value.
        if (value != shown_.value && source_->toPlainText() == text(shown_.source)) {
            source_->clear();
            kind_->setCurrentIndex(Kind::found);
        }
        refresh_buttons();
    });
}

void FigureCard::show_source(const process::Sourced& figure) {
    source_->setPlainText(text(figure.source));
    kind_->setCurrentIndex(figure.assumed ? Kind::assumed : Kind::found);
}

void FigureCard::show_base(const process::Process* base) {
    const bool wedge = key_ == wedge_key;
    const auto was = base && !wedge ? process::counted(*base, key_) : std::nullopt;
    base_->setVisible(was.has_value() && differs_);
    base_source_->setVisible(was.has_value() && differs_);
    if (!was) return;
    base_->setText(tr("In %1: %2").arg(text(base->id), figure_words(was->value, process::kind_of(key_)->unit)));
    base_source_->setText(source_words(*was));
}

void FigureCard::show_figure(const std::string& key, const process::Process& process, const process::Process* base,
                             bool own) {
    filling_ = true;
    key_ = key;
    const bool wedge = key == wedge_key;
    setVisible(true);
    say({});
    value_row_->setVisible(!wedge);
    kind_->setVisible(!wedge);
    wedge_->setVisible(wedge);
    if (wedge) {
        shown_ = {0, process.printing->wedge_source, false};
        title_->setText(tr("Step wedge"));
        where_->hide();
        help_->setText(
            tr("Print a wedge of your material, hold it against a light and type in how much came through at "
               "each thickness. It counts before the attenuation."));
        wedge_->show_steps(process.printing->wedge);
        source_->setPlainText(text(process.printing->wedge_source));
        differs_ = base && base->printing && base->printing->wedge.size() != process.printing->wedge.size();
    } else {
        const process::FigureWords words = process::words_of(key);
        shown_ = *process::figure_of(process, key);
        title_->setText(text(words.what));
        where_->setText(text(words.where));
        where_->setVisible(!words.where.empty());
        help_->setText(text(words.help));
        QString label = words.sense.empty() ? tr("Value") : text(words.sense);
        label[0] = label[0].toUpper();
        value_label_->setText(label);
        make_value_field(shown_);
        show_source(shown_);
        const auto was = base ? process::counted(*base, key) : std::nullopt;
        differs_ = base && (!was || was->value != shown_.value || was->source != shown_.source);
    }
    help_->setVisible(!help_->text().isEmpty());
    show_base(base);
    back_->setVisible(own && differs_);
    if (base) back_->setText(tr("As in %1").arg(text(base->id)));
    note_->setText(own ? tr("Kept in this profile, which is your own.")
                       : tr("This profile comes along and stays as it is: a change is kept in one of your own that "
                            "stands on it."));
    filling_ = false;
    refresh_buttons();
}

QString FigureCard::typed_source() const {
    return source_->toPlainText().simplified();
}

void FigureCard::refresh_buttons() {
    if (filling_ || key_.empty()) return;
    const bool sourced = !typed_source().isEmpty();
    const bool moved = key_ == wedge_key ? wedge_->steps().size() >= 2
                                         : value_->value() != shown_.value || typed_source() != text(shown_.source) ||
                                               (kind_->currentIndex() == Kind::assumed) != shown_.assumed;
    keep_->setEnabled(sourced && moved);
    keep_->setToolTip(!sourced ? tr("Say where it comes from first") : QString());
}

void FigureCard::keep() {
    const std::string source = typed_source().toStdString();
    if (key_ == wedge_key)
        emit keep_wedge_asked(wedge_->steps(), source);
    else
        emit keep_asked({key_, {value_->value(), source, kind_->currentIndex() == Kind::assumed}});
}

void FigureCard::say(const QString& trouble) {
    trouble_->setText(trouble);
    trouble_->setVisible(!trouble.isEmpty());
}

} // namespace touchmark::panels
