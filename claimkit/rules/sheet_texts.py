"""The fixed texts of the receiving sheet, in English and Spanish."""

from __future__ import annotations

from claimkit.rules.receiving import Said

TEXTS: dict[str, Said] = {
    "sheet": Said("Receiving sheet", "Hoja de recepción"),
    "unpacking sheet": Said("Unpacking sheet", "Hoja de desempaque"),
    "originals sheet": Said("Getting the original photos", "Cómo sacar las fotos originales"),
    "page": Said("page {page} of {pages}", "página {page} de {pages}"),
    "site": Said("Site", "Sitio"),
    "carrier": Said("Carrier", "Transportista"),
    "pro": Said("PRO number", "Número PRO"),
    "bill": Said("Bill of lading", "Conocimiento (BOL)"),
    "weight": Said("Weight", "Peso"),
    "reference": Said("Our file", "Nuestro expediente"),
    "shipment": Said("Shipment", "Embarque"),
    "call": Said("Call if in doubt", "Llame si hay duda"),
    "safety": Said("Nobody gets hurt for freight", "Nadie se lastima por una carga"),
    "truck": Said("1  Truck", "1  Camión"),
    "arrived": Said("Arrived", "Llegó"),
    "left": Said("Driver left", "Salió"),
    "driver": Said("Driver's name", "Nombre del chofer"),
    "truck number": Said("Truck no.", "Núm. de camión"),
    "photograph": Said("2  Photograph, in this order", "2  Fotos, en este orden"),
    "count": Said("3  Count, before you sign", "3  Cuente, antes de firmar"),
    "look": Said("4  Look at every unit", "4  Revise cada bulto"),
    "write": Said("5  Write on the carrier's copy", "5  Escriba en la copia del transportista"),
    "write how": Said(
        "Before you sign, for each thing found. Upper line: paper. Lower line: driver's handheld. "
        "Facts only: which, where on it, what, how big.",
        "Antes de firmar, en inglés, por cada cosa hallada. Línea de arriba: papel. De abajo: "
        "aparato del chofer. Solo hechos: cuál, en qué parte, qué, de qué tamaño.",
    ),
    "sign": Said("6  Photograph it, then sign", "6  Tome la foto, luego firme"),
    "on the bill": Said("{count} {what} on the bill", "{count} {what} en el documento"),
    "cartons": Said("cartons", "cajas"),
    "counted": Said("counted", "contado"),
    "items": Said("Ordered", "Pedido"),
    "more items": Said(
        "and {count} more on the unpacking sheet", "y {count} más en la hoja de desempaque"
    ),
    "driver signs": Said("Driver signs by the words", "El chofer firma junto a lo escrito"),
    "signed at": Said("Time", "Hora"),
    "receipt": Said("Signed on", "Se firmó en"),
    "paper": Said("paper", "papel"),
    "handheld": Said("handheld", "aparato"),
    "declined": Said("we declined", "no firmamos"),
    "wrap was": Said("Wrap and seal", "Emplaye y sello"),
    "intact": Said("intact", "enteros"),
    "broken": Said("broken", "rotos"),
    "inspected": Said("Inspected", "Se revisó"),
    "opened": Said("opened", "abierto"),
    "outside": Said("outside only", "solo por fuera"),
    "not at all": Said("not at all", "nada"),
    "where words": Said("Where:", "Dónde (where):"),
    "what words": Said("What:", "Qué (what):"),
    "hidden": Said("Hidden damage found", "Daño oculto hallado"),
    "which piece": Said("Piece", "Pieza"),
    "where on it": Said("Where on it", "En qué parte"),
    "what and size": Said("What, how big", "Qué, de qué tamaño"),
    "found at": Said("Time", "Hora"),
    "driver declined": Said(
        "Driver declined. Write: {words}", "El chofer no quiso firmar. Escriba: {words}"
    ),
    "driver left": Said(
        "Driver would not wait. Write: {words}", "El chofer no quiso esperar. Escriba: {words}"
    ),
    "we sign": Said("We sign (name)", "Firmamos (nombre)"),
    "unpack how": Said("In this order", "En este orden"),
    "against the order": Said("Against the order", "Contra el pedido"),
    "ordered above": Said(
        "Small print: as ordered. Write under it what you find, also where it is right.",
        "Letra chica: lo pedido. Escriba debajo lo que encuentre, también si está bien.",
    ),
    "item": Said("Item", "Pieza"),
    "quantity": Said("Count", "Cantidad"),
    "size": Said("Size", "Medida"),
    "hand": Said("Hand", "Mano"),
    "drain": Said("Drain position", "Desagüe"),
    "colour": Said("Colour", "Color"),
    "condition": Said("Condition", "Estado"),
    "accessory": Said("accessory", "accesorio"),
    "began": Said("Began", "Empezó"),
    "ended": Said("Ended", "Terminó"),
    "who": Said("Who", "Quién"),
    "packing kept": Said("Packing kept where", "Dónde se guarda el empaque"),
    "dry fit": Said("Dry fit: photographs and gaps", "Presentado en seco: fotos y holguras"),
    "dry fit how": Said(
        "On a level base, nothing fastened. One photo of each seam whole, then one at each "
        "station.",
        "Sobre base nivelada, sin fijar nada. Una foto de cada junta entera y una en cada "
        "estación.",
    ),
    "seam": Said("Seam", "Junta"),
    "design": Said("Design gap", "Holgura de diseño"),
    "station": Said("Station", "Estación"),
    "gap": Said("Gap read", "Holgura leída"),
    "photo": Said("Photo", "Foto"),
    "instrument": Said("Read with", "Leída con"),
    "no items": Said("No items stand in job.toml.", "No hay piezas en job.toml."),
    "any phone": Said("Every phone", "Cualquier teléfono"),
    "iphone": Said("iPhone", "iPhone"),
    "android": Said("Android", "Android"),
    "then": Said("Then", "Después"),
    "why originals": Said(
        "A photo proves its time and place only while it is the original file. This is the "
        "commonest loss of evidence, and it cannot be undone.",
        "Una foto prueba su hora y lugar solo si es el archivo original. Es la pérdida de prueba "
        "más común y no tiene remedio.",
    ),
    "from whom": Said("Originals received from", "Originales recibidos de"),
    "names of settings": Said(
        "Names of settings differ a little between versions.",
        "Los nombres de los ajustes cambian un poco entre versiones.",
    ),
}
