//! The words that tables of makers are written in. They are written down here as makers would
//! write them, and not taken from the lists of the reader.

use formulation::file::table::columns::ColumnKind;

use super::dice::Dice;

/// A heading as a maker writes it: two letters exchanged now and then, in capitals, or as it is.
pub fn spelt(heading: String, how: &str, dice: &mut Dice) -> String {
    match how {
        "misspelt" if heading.chars().count() >= 6 && dice.chance(2) => {
            let mut letters: Vec<char> = heading.chars().collect();
            let at = 2 + dice.below(letters.len() - 4);
            if letters[at].is_alphabetic() && letters[at + 1].is_alphabetic() {
                letters.swap(at, at + 1);
            }
            letters.into_iter().collect()
        }
        "capitals" => heading.to_uppercase(),
        _ => heading,
    }
}

/// What a column is there for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Column {
    Phase,
    Name,
    Trade,
    Inci,
    Cas,
    Percent,
    OfPhase,
    Grams,
    Kilograms,
    Batch,
    Parts,
    Unit,
    Function,
    Supplier,
    Highest,
    Range,
    Old,
    Active,
    PricePerKilogram,
    Cost,
    Note,
    Number,
    Code,
    Tick,
    Date,
    Procedure,
    Price,
    Gross,
    Pack,
    Currency,
    Packs,
    RunningSum,
    Weighed,
    Instead,
    Total,
    Rate,
    Group,
    InStock,
    Lot,
    Expiry,
    Valid,
    Empty,
}

/// What the reader must take each column for.
pub const MEANT: &[(Column, &[ColumnKind])] = &[
    (Column::Phase, &[ColumnKind::Phase]),
    (Column::Name, &[ColumnKind::Name]),
    (Column::Trade, &[ColumnKind::Trade]),
    (Column::Inci, &[ColumnKind::Inci]),
    (Column::Cas, &[ColumnKind::Cas]),
    (Column::Percent, &[ColumnKind::Percent]),
    (Column::Grams, &[ColumnKind::Amount]),
    (Column::Kilograms, &[ColumnKind::Amount]),
    (Column::Parts, &[ColumnKind::Amount]),
    (Column::Unit, &[ColumnKind::Unit]),
    (Column::Function, &[ColumnKind::Role]),
    (Column::Supplier, &[ColumnKind::Supplier]),
    (Column::Highest, &[ColumnKind::UseLevel]),
    (Column::Range, &[ColumnKind::UseLevel]),
    (Column::Old, &[ColumnKind::Earlier]),
    (Column::Active, &[ColumnKind::Strength]),
    (Column::PricePerKilogram, &[ColumnKind::Price]),
    (Column::Cost, &[ColumnKind::Price, ColumnKind::TotalPrice]),
    (Column::Note, &[ColumnKind::Note]),
    (Column::Number, &[ColumnKind::Code, ColumnKind::Name]),
    (Column::Code, &[ColumnKind::Code]),
    (Column::Procedure, &[ColumnKind::Procedure]),
    (Column::Price, &[ColumnKind::Price]),
    (Column::Gross, &[ColumnKind::Gross]),
    (Column::Pack, &[ColumnKind::Pack]),
    (Column::Currency, &[ColumnKind::Currency]),
    (
        Column::Packs,
        &[ColumnKind::Packs, ColumnKind::Amount, ColumnKind::Name],
    ),
];

/// The place of a language in the lists below.
pub fn place(language: &str) -> usize {
    ["en", "de", "fr", "es", "it", "nl", "pl"]
        .iter()
        .position(|l| *l == language)
        .unwrap()
}

type InAll = [&'static [&'static str]; 7];

/// How a column is headed in a language.
pub fn headings(column: Column, language: &str) -> &'static [&'static str] {
    let all: InAll = match column {
        Column::Phase => [
            &["Phase", "Ph."],
            &["Phase"],
            &["Phase"],
            &["Fase"],
            &["Fase"],
            &["Fase"],
            &["Faza"],
        ],
        Column::Name => [
            &["Ingredient", "Raw material", "Material", "Ingredients"],
            &["Rohstoff", "Zutat", "Rohstoffe", "Inhaltsstoff"],
            &["Matière première", "Ingrédient", "Ingrédients"],
            &["Materia prima", "Ingrediente"],
            &["Materia prima", "Ingrediente", "Ingredienti"],
            &["Grondstof", "Ingrediënt", "Grondstoffen"],
            &["Surowiec", "Składnik", "Surowce"],
        ],
        Column::Trade => [
            &["Trade name", "Commercial name"],
            &["Handelsname"],
            &["Nom commercial"],
            &["Nombre comercial"],
            &["Nome commerciale"],
            &["Handelsnaam"],
            &["Nazwa handlowa"],
        ],
        Column::Inci => [
            &["INCI", "INCI name"],
            &["INCI", "INCI-Bezeichnung", "INCI-Name"],
            &["INCI", "Nom INCI"],
            &["INCI", "Nombre INCI"],
            &["INCI", "Nome INCI"],
            &["INCI", "INCI-naam"],
            &["INCI", "Nazwa INCI"],
        ],
        Column::Cas => [
            &["CAS", "CAS no.", "CAS number"],
            &["CAS", "CAS-Nr."],
            &["CAS", "N° CAS"],
            &["CAS", "N.º CAS"],
            &["CAS", "N. CAS"],
            &["CAS", "CAS-nr."],
            &["CAS", "Nr CAS"],
        ],
        Column::Percent => [
            &["%", "% w/w", "Percent", "wt %", "Percentage"],
            &["%", "Anteil %", "Prozent", "Gew.-%", "Anteil in %"],
            &["%", "% m/m", "Pourcentage", "% (m/m)"],
            &["%", "Porcentaje", "% p/p"],
            &["%", "Percentuale", "% p/p"],
            &["%", "Percentage", "% m/m"],
            &["%", "Procent", "% wag.", "Udział %"],
        ],
        Column::OfPhase => [
            &["% of phase"],
            &["% der Phase"],
            &["% de la phase"],
            &["% de la fase"],
            &["% della fase"],
            &["% van de fase"],
            &["% fazy"],
        ],
        Column::Grams => [
            &["g", "Amount (g)", "Weight g", "Grams", "Weight [g]"],
            &["g", "Menge (g)", "Einwaage [g]", "Gramm", "Menge in g"],
            &["g", "Quantité (g)", "Pesée (g)", "Poids en g"],
            &["g", "Cantidad (g)", "Peso (g)", "Gramos"],
            &["g", "Quantità (g)", "Peso (g)", "Grammi"],
            &["g", "Hoeveelheid (g)", "Gewicht (g)", "Gram"],
            &["g", "Ilość (g)", "Masa [g]", "Gramy"],
        ],
        Column::Kilograms => [
            &["kg", "Amount (kg)"],
            &["kg", "Menge (kg)"],
            &["kg", "Quantité (kg)"],
            &["kg", "Cantidad (kg)"],
            &["kg", "Quantità (kg)"],
            &["kg", "Hoeveelheid (kg)"],
            &["kg", "Ilość (kg)"],
        ],
        Column::Batch => [
            &["For", "Batch of"],
            &["Für", "Ansatz"],
            &["Pour"],
            &["Para"],
            &["Per"],
            &["Voor"],
            &["Na"],
        ],
        Column::Parts => [
            &["Parts"],
            &["Teile"],
            &["Parties"],
            &["Partes"],
            &["Parti"],
            &["Delen"],
            &["Części"],
        ],
        Column::Unit => [
            &["Unit"],
            &["Einheit"],
            &["Unité"],
            &["Unidad"],
            &["Unità"],
            &["Eenheid"],
            &["Jednostka"],
        ],
        Column::Function => [
            &["Function", "Role"],
            &["Funktion"],
            &["Fonction"],
            &["Función"],
            &["Funzione"],
            &["Functie"],
            &["Funkcja"],
        ],
        Column::Supplier => [
            &["Supplier", "Vendor"],
            &["Lieferant", "Hersteller"],
            &["Fournisseur"],
            &["Proveedor"],
            &["Fornitore"],
            &["Leverancier"],
            &["Dostawca"],
        ],
        Column::Highest => [
            &["Max. %", "Max use level", "Limit %"],
            &["Max. %", "Höchstmenge", "Max. Einsatz %"],
            &["Max %", "Dose max"],
            &["Máx. %", "Dosis máxima"],
            &["Max %", "Dose massima"],
            &["Max %", "Maximaal %"],
            &["Maks. %", "Maksimum"],
        ],
        Column::Range => [
            &["Usual use", "Recommended"],
            &["Einsatzmenge", "Empfohlen"],
            &["Dosage recommandé"],
            &["Dosis recomendada"],
            &["Uso consigliato"],
            &["Aanbevolen"],
            &["Zalecane"],
        ],
        Column::Old => [
            &["Old %", "Previous", "Last version %"],
            &["Alt %", "Bisher", "Vorher %"],
            &["Ancien %", "Avant"],
            &["Anterior %", "Antes"],
            &["Vecchio %", "Precedente"],
            &["Oud %", "Vorige"],
            &["Stare %", "Poprzednie"],
        ],
        Column::Active => [
            &["Active %", "Active matter %"],
            &["Aktivgehalt %", "Wirkstoffgehalt %"],
            &["Matière active %"],
            &["Materia activa %"],
            &["Sostanza attiva %"],
            &["Actieve stof %"],
            &["Substancja aktywna %"],
        ],
        Column::PricePerKilogram => [
            &["Price/kg", "€/kg", "Price per kg"],
            &["Preis/kg", "€/kg", "EK €/kg"],
            &["Prix/kg", "€/kg"],
            &["Precio/kg", "€/kg"],
            &["Prezzo/kg", "€/kg"],
            &["Prijs/kg", "€/kg"],
            &["Cena/kg", "zł/kg"],
        ],
        Column::Cost => [
            &["Cost", "Cost €"],
            &["Kosten", "Kosten €"],
            &["Coût", "Coût €"],
            &["Coste", "Coste €"],
            &["Costo", "Costo €"],
            &["Kosten", "Kosten €"],
            &["Koszt", "Koszt zł"],
        ],
        Column::Note => [
            &["Notes", "Remarks", "Comment"],
            &["Bemerkung", "Hinweis", "Notiz"],
            &["Remarques", "Commentaire"],
            &["Notas", "Observaciones"],
            &["Note", "Osservazioni"],
            &["Opmerking", "Opmerkingen"],
            &["Uwagi"],
        ],
        Column::Number => [
            &["No.", "#", "Item"],
            &["Nr.", "Pos.", "Lfd. Nr."],
            &["N°", "No"],
            &["N.º"],
            &["N.", "N°"],
            &["Nr."],
            &["Lp.", "Nr"],
        ],
        Column::Code => [
            &["Code", "Item no.", "RM code"],
            &["Art.-Nr.", "Artikelnummer"],
            &["Code", "Réf."],
            &["Código", "Ref."],
            &["Codice"],
            &["Code", "Artikelnr."],
            &["Kod", "Indeks"],
        ],
        Column::Tick => [
            &["✓", "Done", "Weighed"],
            &["✓", "Erledigt", "OK"],
            &["✓", "Fait"],
            &["✓", "Hecho"],
            &["✓", "Fatto"],
            &["✓", "Klaar"],
            &["✓", "Gotowe"],
        ],
        Column::Date => [
            &["Date", "Opened"],
            &["Datum", "Geöffnet am"],
            &["Date"],
            &["Fecha"],
            &["Data"],
            &["Datum"],
            &["Data"],
        ],
        Column::Procedure => [
            &["Procedure", "Instructions"],
            &["Herstellung", "Arbeitsschritt"],
            &["Mode opératoire"],
            &["Procedimiento"],
            &["Procedimento"],
            &["Werkwijze"],
            &["Sposób wykonania"],
        ],
        Column::Price => [
            &["Price", "Unit price"],
            &["Preis", "Einzelpreis"],
            &["Prix", "Prix unitaire"],
            &["Precio"],
            &["Prezzo"],
            &["Prijs"],
            &["Cena"],
        ],
        Column::Gross => [
            &["Price incl. VAT", "Gross price"],
            &["Preis inkl. MwSt.", "Bruttopreis"],
            &["Prix TTC"],
            &["Precio con IVA"],
            &["Prezzo IVA inclusa"],
            &["Prijs incl. btw"],
            &["Cena brutto"],
        ],
        Column::Pack => [
            &["Pack", "Pack size", "Size"],
            &["Gebinde", "Inhalt", "Packungsgröße"],
            &["Conditionnement", "Contenance"],
            &["Envase", "Formato"],
            &["Confezione", "Formato"],
            &["Verpakking", "Inhoud"],
            &["Opakowanie"],
        ],
        Column::Currency => [
            &["Currency"],
            &["Währung"],
            &["Devise"],
            &["Moneda"],
            &["Valuta"],
            &["Valuta"],
            &["Waluta"],
        ],
        Column::Packs => [
            &["Qty", "Packs"],
            &["Anzahl", "Stück"],
            &["Nombre", "Qté"],
            &["Unidades", "Uds."],
            &["Pezzi"],
            &["Aantal"],
            &["Sztuk"],
        ],
        Column::RunningSum => [
            &["Running total", "Cumulative %"],
            &["Kumuliert %", "Laufende Summe"],
            &["Cumul %"],
            &["Acumulado %"],
            &["Cumulativo %"],
            &["Cumulatief %"],
            &["Narastająco %"],
        ],
        Column::Weighed => [
            &["Weighed (g)", "Actual g"],
            &["Ist (g)", "Tatsächlich (g)"],
            &["Pesé (g)", "Réel (g)"],
            &["Pesado (g)", "Real (g)"],
            &["Pesato (g)", "Effettivo (g)"],
            &["Gewogen (g)", "Werkelijk (g)"],
            &["Zważono (g)", "Rzeczywiste (g)"],
        ],
        Column::Instead => [
            &["Substitute", "Alternative"],
            &["Ersatz", "Alternative"],
            &["Alternative"],
            &["Alternativa"],
            &["Alternativa"],
            &["Alternatief"],
            &["Zamiennik"],
        ],
        Column::Total => [
            &["Total", "Line total"],
            &["Gesamt", "Gesamtpreis"],
            &["Total", "Montant"],
            &["Total", "Importe"],
            &["Totale", "Importo"],
            &["Totaal", "Totaalprijs"],
            &["Razem", "Wartość"],
        ],
        Column::Rate => [
            &["VAT %", "VAT"],
            &["MwSt. %", "USt. %"],
            &["TVA %", "TVA"],
            &["IVA %", "IVA"],
            &["IVA %", "IVA"],
            &["Btw %", "BTW"],
            &["VAT %", "Stawka VAT"],
        ],
        Column::Group => [
            &["Category", "Group"],
            &["Kategorie", "Warengruppe"],
            &["Catégorie"],
            &["Categoría"],
            &["Categoria"],
            &["Categorie"],
            &["Kategoria"],
        ],
        Column::InStock => [
            &["In stock", "Stock (g)"],
            &["Bestand", "Auf Lager"],
            &["En stock"],
            &["Existencias"],
            &["Giacenza"],
            &["Voorraad"],
            &["Na stanie"],
        ],
        Column::Lot => [
            &["Lot", "Batch no."],
            &["Charge", "Chargen-Nr."],
            &["N° de lot"],
            &["Lote"],
            &["Lotto"],
            &["Lotnummer"],
            &["Nr partii"],
        ],
        Column::Expiry => [
            &["Best before", "Expiry"],
            &["MHD", "Haltbar bis"],
            &["DDM", "Date limite"],
            &["Caducidad"],
            &["Scadenza"],
            &["THT", "Houdbaar tot"],
            &["Data ważności"],
        ],
        Column::Valid => [
            &["Price from", "As of"],
            &["Stand", "Gültig ab"],
            &["Mis à jour"],
            &["Fecha"],
            &["Aggiornato"],
            &["Geldig vanaf"],
            &["Z dnia"],
        ],
        Column::Empty => [&[""]; 7],
    };
    all[place(language)]
}

/// What phases are for: water, oil, added when cool, adjusted at the end.
pub fn purposes(language: &str) -> [&'static str; 4] {
    [
        ["Water phase", "Oil phase", "Cool-down phase", "Adjustment"],
        ["Wasserphase", "Fettphase", "Abkühlphase", "Wirkstoffphase"],
        [
            "Phase aqueuse",
            "Phase huileuse",
            "Phase de refroidissement",
            "Phase des actifs",
        ],
        ["Fase acuosa", "Fase oleosa", "Fase fría", "Fase de activos"],
        [
            "Fase acquosa",
            "Fase grassa",
            "Fase a freddo",
            "Fase degli attivi",
        ],
        ["Waterfase", "Vetfase", "Afkoelfase", "Actieve fase"],
        [
            "Faza wodna",
            "Faza olejowa",
            "Faza chłodzenia",
            "Faza aktywna",
        ],
    ][place(language)]
}

/// "Phase".
pub fn phase(language: &str) -> &'static str {
    ["Phase", "Phase", "Phase", "Fase", "Fase", "Fase", "Faza"][place(language)]
}

/// What stands before a sum, and before that of a phase.
pub fn totals(language: &str) -> (&'static [&'static str], &'static str) {
    let all: [(&'static [&'static str], &'static str); 7] = [
        (&["Total", "Sum", "TOTAL"], "Subtotal"),
        (&["Summe", "Gesamt", "Summe:"], "Zwischensumme"),
        (&["Total", "Total :"], "Sous-total"),
        (&["Total", "Suma"], "Subtotal"),
        (&["Totale", "Somma"], "Subtotale"),
        (&["Totaal", "Som"], "Subtotaal"),
        (&["Razem", "Suma"], "Suma częściowa"),
    ];
    all[place(language)]
}

/// "Batch", beside its size.
pub fn batch(language: &str) -> &'static [&'static str] {
    let all: InAll = [
        &["Batch size", "Batch", "Makes"],
        &["Ansatz", "Ansatzgröße", "Menge"],
        &["Taille du lot", "Quantité totale"],
        &["Lote", "Tamaño del lote"],
        &["Lotto", "Quantità totale"],
        &["Batchgrootte", "Hoeveelheid"],
        &["Wielkość partii", "Partia"],
    ];
    all[place(language)]
}

/// A "q.s." that names no whole, one that does before the number, "ad", the rest, and more of
/// it in words.
pub fn fillers(language: &str) -> [&'static str; 5] {
    [
        ["q.s.", "q.s. to", "ad", "balance", "up to"],
        ["q.s.", "q.s. ad", "ad", "Rest", "auf"],
        ["q.s.", "q.s.p.", "q.s.p.", "reste", "compléter à"],
        ["c.s.", "c.s.p.", "c.s.p.", "resto", "hasta"],
        ["q.b.", "q.b. a", "q.b. a", "resto", "fino a"],
        ["q.s.", "q.s. ad", "ad", "rest", "tot"],
        ["q.s.", "q.s. do", "do", "reszta", "do"],
    ][place(language)]
}

/// What makers write beside a material.
pub fn notes(language: &str) -> [&'static str; 3] {
    [
        ["add slowly", "organic", "check the lot"],
        ["langsam zugeben", "bio", "Charge prüfen"],
        ["ajouter lentement", "bio", "vérifier le lot"],
        ["añadir despacio", "ecológico", "revisar el lote"],
        ["aggiungere piano", "bio", "controllare il lotto"],
        ["langzaam toevoegen", "biologisch", "partij controleren"],
        ["dodawać powoli", "ekologiczny", "sprawdzić partię"],
    ][place(language)]
}

/// What a material does, in a word.
pub fn functions(language: &str) -> [&'static str; 4] {
    [
        ["solvent", "humectant", "emollient", "preservative"],
        [
            "Lösungsmittel",
            "Feuchthaltemittel",
            "Emollient",
            "Konservierung",
        ],
        ["solvant", "humectant", "émollient", "conservateur"],
        ["disolvente", "humectante", "emoliente", "conservante"],
        ["solvente", "umettante", "emolliente", "conservante"],
        [
            "oplosmiddel",
            "bevochtiger",
            "emolliens",
            "conserveermiddel",
        ],
        ["rozpuszczalnik", "humektant", "emolient", "konserwant"],
    ][place(language)]
}

/// "Method" and steps of it.
pub fn method(language: &str) -> (&'static str, [&'static str; 3]) {
    [
        (
            "Method",
            [
                "Heat A and B to 75 °C.",
                "Pour B into A and stir for 5 minutes.",
                "Cool to 40 °C and add C.",
            ],
        ),
        (
            "Herstellung",
            [
                "A und B auf 75 °C erwärmen.",
                "B in A geben und 5 Minuten rühren.",
                "Auf 40 °C abkühlen und C zugeben.",
            ],
        ),
        (
            "Mode opératoire",
            [
                "Chauffer A et B à 75 °C.",
                "Verser B dans A et mélanger 5 minutes.",
                "Refroidir à 40 °C et ajouter C.",
            ],
        ),
        (
            "Elaboración",
            [
                "Calentar A y B a 75 °C.",
                "Verter B en A y mezclar 5 minutos.",
                "Enfriar a 40 °C y añadir C.",
            ],
        ),
        (
            "Procedimento",
            [
                "Scaldare A e B a 75 °C.",
                "Versare B in A e mescolare 5 minuti.",
                "Raffreddare a 40 °C e aggiungere C.",
            ],
        ),
        (
            "Werkwijze",
            [
                "Verwarm A en B tot 75 °C.",
                "Giet B bij A en roer 5 minuten.",
                "Laat afkoelen tot 40 °C en voeg C toe.",
            ],
        ),
        (
            "Sposób wykonania",
            [
                "Podgrzać A i B do 75 °C.",
                "Wlać B do A i mieszać 5 minut.",
                "Ostudzić do 40 °C i dodać C.",
            ],
        ),
    ][place(language)]
}

/// Facts of the product with a number: what it is called and its value.
pub fn facts(language: &str) -> [(&'static str, &'static str); 3] {
    [
        [
            ("pH", "5.5"),
            ("Viscosity", "4500 mPas"),
            ("Shelf life", "12 months"),
        ],
        [
            ("pH-Wert", "5,5"),
            ("Viskosität", "4500 mPas"),
            ("Haltbarkeit", "12 Monate"),
        ],
        [
            ("pH", "5,5"),
            ("Viscosité", "4500 mPas"),
            ("Aspect", "crème blanche"),
        ],
        [
            ("pH", "5,5"),
            ("Viscosidad", "4500 mPas"),
            ("Aspecto", "crema blanca"),
        ],
        [
            ("pH", "5,5"),
            ("Viscosità", "4500 mPas"),
            ("Aspetto", "crema bianca"),
        ],
        [
            ("pH", "5,5"),
            ("Viscositeit", "4500 mPas"),
            ("Uiterlijk", "witte crème"),
        ],
        [
            ("pH", "5,5"),
            ("Lepkość", "4500 mPas"),
            ("Wygląd", "biały krem"),
        ],
    ][place(language)]
}

/// What stands above a list besides its name: what it is called and its value.
pub fn heads(language: &str) -> [(&'static str, &'static str); 3] {
    [
        [
            ("Date", "2026-03-02"),
            ("Version", "3"),
            ("Author", "J. Larkmoor"),
        ],
        [
            ("Datum", "02.03.2026"),
            ("Version", "3"),
            ("Erstellt von", "J. Larkmoor"),
        ],
        [
            ("Date", "02/03/2026"),
            ("Version", "3"),
            ("Auteur", "J. Larkmoor"),
        ],
        [
            ("Fecha", "02/03/2026"),
            ("Versión", "3"),
            ("Autor", "J. Larkmoor"),
        ],
        [
            ("Data", "02/03/2026"),
            ("Versione", "3"),
            ("Autore", "J. Larkmoor"),
        ],
        [
            ("Datum", "02-03-2026"),
            ("Versie", "3"),
            ("Auteur", "J. Larkmoor"),
        ],
        [
            ("Data", "02.03.2026"),
            ("Wersja", "3"),
            ("Autor", "J. Larkmoor"),
        ],
    ][place(language)]
}

/// Names of products, invented.
pub fn products(language: &str) -> [&'static str; 2] {
    [
        ["Oat and juniper cream", "Moss shower gel"],
        ["Hafer-Wacholder-Creme", "Moos-Duschgel"],
        ["Crème avoine et genévrier", "Gel douche mousse"],
        ["Crema de avena y enebro", "Gel de ducha musgo"],
        ["Crema avena e ginepro", "Bagnoschiuma muschio"],
        ["Haver-jeneverbescrème", "Mos douchegel"],
        ["Krem owsiano-jałowcowy", "Żel pod prysznic mech"],
    ][place(language)]
}

/// Remarks below a list.
pub fn remarks(language: &str) -> [&'static str; 2] {
    [
        ["Smells better after two weeks.", "* from organic farming"],
        [
            "Riecht nach zwei Wochen besser.",
            "* aus kontrolliert biologischem Anbau",
        ],
        [
            "Sent meilleur après deux semaines.",
            "* issu de l'agriculture biologique",
        ],
        [
            "Huele mejor después de dos semanas.",
            "* de agricultura ecológica",
        ],
        [
            "Profuma meglio dopo due settimane.",
            "* da agricoltura biologica",
        ],
        ["Ruikt beter na twee weken.", "* uit biologische teelt"],
        [
            "Pachnie lepiej po dwóch tygodniach.",
            "* z upraw ekologicznych",
        ],
    ][place(language)]
}

/// "About", before a number.
pub fn about(language: &str) -> &'static str {
    ["approx.", "ca.", "env.", "aprox.", "circa", "ca.", "ok."][place(language)]
}

/// "Net" beside a price.
pub fn net(language: &str) -> &'static str {
    ["net", "netto", "HT", "neto", "netto", "netto", "netto"][place(language)]
}

/// Tax on what is sold.
pub fn tax(language: &str) -> &'static str {
    ["VAT", "MwSt", "TVA", "IVA", "IVA", "BTW", "VAT"][place(language)]
}

/// "Per".
pub fn per(language: &str) -> &'static str {
    ["per", "pro", "par", "por", "per", "per", "za"][place(language)]
}

/// "From", before the least quantity of a price.
pub fn from(language: &str) -> &'static str {
    ["from", "ab", "à partir de", "desde", "da", "vanaf", "od"][place(language)]
}

/// Groups in which suppliers sort what they sell.
pub fn groups(language: &str) -> [&'static str; 3] {
    [
        ["Oils and butters", "Surfactants", "Additives"],
        ["Öle und Fette", "Tenside", "Wirkstoffe und Zusätze"],
        ["Huiles et beurres", "Tensioactifs", "Additifs"],
        ["Aceites y mantecas", "Tensioactivos", "Aditivos"],
        ["Oli e burri", "Tensioattivi", "Additivi"],
        [
            "Oliën en boters",
            "Oppervlakteactieve stoffen",
            "Additieven",
        ],
        ["Oleje i masła", "Środki powierzchniowo czynne", "Dodatki"],
    ][place(language)]
}

/// What a supplier asks for besides materials.
pub fn freight(language: &str) -> &'static str {
    [
        "Shipping",
        "Versandkosten",
        "Frais de port",
        "Gastos de envío",
        "Spedizione",
        "Verzendkosten",
        "Wysyłka",
    ][place(language)]
}

/// Headings that no list of words has: a maker's own, or of a language that is none of those
/// above (Danish, Swedish, Portuguese, Czech).
pub fn odd_heading(column: Column, foreign: usize) -> Option<&'static str> {
    let all: [&'static str; 5] = match column {
        Column::Name => [
            "What goes in",
            "Råvare",
            "Råvara",
            "Matéria-prima",
            "Surovina",
        ],
        Column::Percent => [
            "how much of 100",
            "Procentdel",
            "Andel %",
            "Percentagem",
            "Podíl %",
        ],
        Column::Grams => [
            "on the scale g",
            "Mængde (g)",
            "Mängd (g)",
            "Quantidade (g)",
            "Množství (g)",
        ],
        Column::Phase => ["pot", "Fase", "Fas", "Fase", "Fáze"],
        Column::Inci => ["INCI", "INCI-navn", "INCI-namn", "Nome INCI", "Název INCI"],
        Column::Note => ["hm", "Bemærkning", "Anmärkning", "Observações", "Poznámka"],
        _ => return None,
    };
    all.get(foreign).copied()
}

/// What stands between the lines of a list.
pub fn between(language: &str) -> &'static str {
    [
        "Stir until it is clear.",
        "Rühren, bis es klar ist.",
        "Mélanger jusqu'à ce que ce soit clair.",
        "Mezclar hasta que quede claro.",
        "Mescolare finché è limpido.",
        "Roer tot het helder is.",
        "Mieszać, aż będzie klarowne.",
    ][place(language)]
}

/// What a maker reckons below a recipe: what it is called and how much it comes to.
pub fn costs(language: &str) -> [(&'static str, &'static str); 2] {
    [
        [("Material cost", "12.40 €"), ("Cost per jar", "1.24 €")],
        [
            ("Materialkosten", "12,40 €"),
            ("Kosten pro Tiegel", "1,24 €"),
        ],
        [("Coût matières", "12,40 €"), ("Coût par pot", "1,24 €")],
        [
            ("Coste de materiales", "12,40 €"),
            ("Coste por tarro", "1,24 €"),
        ],
        [
            ("Costo materie prime", "12,40 €"),
            ("Costo per vasetto", "1,24 €"),
        ],
        [("Materiaalkosten", "12,40 €"), ("Kosten per pot", "1,24 €")],
        [("Koszt surowców", "12,40 €"), ("Koszt słoika", "1,24 €")],
    ][place(language)]
}

/// What the product is filled into, with how many of it.
pub fn packaging(language: &str) -> [(&'static str, &'static str); 3] {
    [
        [("Packaging", ""), ("Jar 50 ml", "10"), ("Lid, black", "10")],
        [
            ("Verpackung", ""),
            ("Tiegel 50 ml", "10"),
            ("Deckel, schwarz", "10"),
        ],
        [
            ("Emballage", ""),
            ("Pot 50 ml", "10"),
            ("Couvercle noir", "10"),
        ],
        [("Envases", ""), ("Tarro 50 ml", "10"), ("Tapa negra", "10")],
        [
            ("Imballaggio", ""),
            ("Vasetto 50 ml", "10"),
            ("Coperchio nero", "10"),
        ],
        [
            ("Verpakking", ""),
            ("Pot 50 ml", "10"),
            ("Deksel zwart", "10"),
        ],
        [
            ("Opakowania", ""),
            ("Słoik 50 ml", "10"),
            ("Wieczko czarne", "10"),
        ],
    ][place(language)]
}

/// What was tried of the product, and what came of it.
pub fn tests(language: &str) -> [(&'static str, &'static str); 2] {
    [
        [
            ("Centrifuge 30 min", "stable"),
            ("Freeze and thaw", "3 times"),
        ],
        [
            ("Zentrifuge 30 min", "stabil"),
            ("Frost-Tau-Wechsel", "3 mal"),
        ],
        [
            ("Centrifugeuse 30 min", "stable"),
            ("Gel et dégel", "3 fois"),
        ],
        [
            ("Centrífuga 30 min", "estable"),
            ("Hielo y deshielo", "3 veces"),
        ],
        [
            ("Centrifuga 30 min", "stabile"),
            ("Gelo e disgelo", "3 volte"),
        ],
        [
            ("Centrifuge 30 min", "stabiel"),
            ("Vriezen en dooien", "3 keer"),
        ],
        [
            ("Wirówka 30 min", "stabilny"),
            ("Mrożenie i odmrażanie", "3 razy"),
        ],
    ][place(language)]
}
