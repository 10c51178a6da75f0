"""What to do at the curb and at the unpacking, in order of the work, for the sheet and the page.

Photos in their order, what to look at, what keeps people whole, and how the originals get off a
telephone. Each row is in English and Spanish and says where it comes from.
"""

from __future__ import annotations

from dataclasses import dataclass

from claimkit.rules.receiving import PRACTICE, Said


@dataclass(frozen=True, slots=True)
class Row:
    """One thing to do: its id, its text, its source and mark (S read, P summary, M from memory)."""

    id: str
    text: Said
    citation: str = PRACTICE
    mark: str = "M"


# The carrier's and the site's rules come first of all.
SAFETY: tuple[Row, ...] = (
    Row(
        "rules-first",
        Said(
            "The carrier's rules, the driver's word on the truck and the site's rules come first.",
            "Primero las reglas del transportista, lo que diga el chofer en el camión y las reglas "
            "del sitio.",
        ),
    ),
    Row(
        "tailgate",
        Said(
            "Stay off the tailgate and out from under it.",
            "No se suba a la rampa trasera ni se pare debajo.",
        ),
    ),
    Row(
        "team-lift",
        Said("Lift with two or more people, or a cart.", "Levante entre dos o más, o con carro."),
        "revised NIOSH lifting equation, DHHS (NIOSH) 94-110: 23 kg (51 lb) under ideal conditions",
    ),
    Row(
        "straps",
        Said(
            "Straps are under tension: stand aside. Cut none that holds a leaning load.",
            "Los flejes están tensos: hágase a un lado. No corte el que sostiene carga inclinada.",
        ),
    ),
    Row(
        "glass",
        Said(
            "Glass: gloves, eye protection, keep it upright. Cracked glass can fail later.",
            "Vidrio: guantes, lentes, siempre de pie. El vidrio agrietado puede reventar después.",
        ),
    ),
)

SHOTS: tuple[Row, ...] = (
    Row(
        "truck",
        Said("Truck, its number and plate", "Camión, su número y la placa"),
    ),
    Row(
        "load",
        Said(
            "The load in the truck, before it is moved",
            "La carga en el camión, antes de moverla",
        ),
    ),
    Row(
        "faces",
        Said(
            "Each unit from all four sides and the top",
            "Cada bulto por los cuatro lados y por arriba",
        ),
    ),
    Row(
        "labels",
        Said("Every label and piece number", "Cada etiqueta y número de pieza"),
    ),
    Row(
        "wrap",
        Said("Wrap, seal and straps, close", "Emplaye, sello y flejes, de cerca"),
    ),
    Row(
        "indicators",
        Said("Tilt and shock indicators, close", "Indicadores de inclinación y golpe, de cerca"),
    ),
    Row(
        "damage",
        Said(
            "Each damage: the whole piece, then close with a tape measure",
            "Cada daño: la pieza entera, luego de cerca con cinta métrica",
        ),
    ),
    Row(
        "put-down",
        Said("Everything where it was put down", "Todo donde lo dejaron"),
    ),
)
# Taken at the end, with the words on it.
RECEIPT_SHOTS: tuple[Row, ...] = (
    Row(
        "before-signing",
        Said(
            "The receipt or the driver's screen with your words, before signing",
            "El recibo o la pantalla del chofer con sus palabras, antes de firmar",
        ),
    ),
    Row(
        "signed",
        Said("The same again, signed", "Lo mismo otra vez, ya firmado"),
    ),
)

LOOK: tuple[Row, ...] = (
    Row("faces", Said("Every face and the top", "Cada cara y la parte de arriba")),
    Row("corners", Said("All corners and edges", "Todas las esquinas y cantos")),
    Row("straps", Said("Straps and bands: tight, none cut", "Flejes: tensos, ninguno cortado")),
    Row("base", Said("Skid or pallet boards whole", "Tablas de la tarima enteras")),
    Row("wrap", Said("Wrap and seal: cut, loose, taped over", "Emplaye y sello: corte, parche")),
    Row("indicators", Said("Tilt and shock indicators", "Indicadores de inclinación y golpe")),
    Row("moisture", Said("Water: stains, soft board, drips", "Agua: manchas, cartón blando")),
    Row("sound", Said("Loose parts heard inside", "Piezas sueltas que suenan adentro")),
)

UNPACKING: tuple[Row, ...] = (
    Row(
        "packing-first",
        Said(
            "Photograph each package closed, half open, and its inner packing before you lift "
            "anything out.",
            "Fotografíe cada bulto cerrado, a medio abrir y el empaque interior antes de sacar "
            "nada.",
        ),
    ),
    Row(
        "stop",
        Said(
            "At the first hidden damage: stop, leave it as it lies, photograph, tell the office "
            "today. Days count.",
            "Al primer daño oculto: alto, déjelo como está, tome fotos, avise hoy a la oficina. "
            "Los días cuentan.",
        ),
        "NMFC item 300135-A: report concealed damage within the period of the bill (wording read)",
        "S",
    ),
    Row(
        "keep",
        Said(
            "Keep all packing of a damaged or short package, with the piece, until the carrier has "
            "inspected or waived it in writing.",
            "Guarde todo el empaque de lo dañado o incompleto, junto a la pieza, hasta que el "
            "transportista lo revise o renuncie por escrito.",
        ),
        "NMFC item 300135-A: hold the container and its contents as found (wording read)",
        "S",
    ),
    Row(
        "against-order",
        Said(
            "Check against the order: count, size, hand, drain position, colour, and every bag of "
            "hardware. Write what you find, also where it is right.",
            "Compare con el pedido: cantidad, medida, mano, posición del desagüe, color y cada "
            "bolsa "
            "de herrajes. Anote lo que encuentre, también si está bien.",
        ),
    ),
    Row(
        "old-fixture",
        Said(
            "Leave the old fixture in until everything is here, measured and dry-fitted.",
            "No quite lo viejo hasta que todo esté aquí, medido y presentado en seco.",
        ),
    ),
    Row(
        "dry-fit",
        Said(
            "Dry-fit on a level base. Photograph every seam whole, then each station square-on "
            "with "
            "the rule or gauge in the gap, before anything is fastened.",
            "Presente en seco sobre base nivelada. Fotografíe cada junta entera y luego cada "
            "estación "
            "de frente con la regla o galga en la holgura, antes de fijar nada.",
        ),
    ),
)

# Names of settings as of 2025, from memory: they move between versions.
_PHONES = "names of settings on telephones, from memory"

ANY_PHONE: tuple[Row, ...] = (
    Row(
        "before",
        Said(
            "Before the delivery: set date and time to automatic, and let the camera keep the "
            "location.",
            "Antes de la entrega: fecha y hora en automático, y permita que la cámara guarde la "
            "ubicación.",
        ),
        _PHONES,
    ),
    Row(
        "one-clock",
        Said(
            "With every phone photograph one other clock, such as the driver's screen: it shows "
            "how far the phone's clock is off.",
            "Con cada teléfono tome una foto de otro reloj, como la pantalla del chofer: muestra "
            "cuánto se desvía el reloj del teléfono.",
        ),
    ),
    Row(
        "camera-app",
        Said(
            "Take photos with the phone's own camera app, not from inside a chat or a web page.",
            "Tome las fotos con la cámara del teléfono, no dentro de un chat ni de una página.",
        ),
        "measured on public files: re-encoded copies lose date, camera and place",
        "S",
    ),
    Row(
        "never",
        Said(
            "Never send them by chat, as a screenshot, cropped or edited, or by e-mail at a "
            "reduced size: the date and place are lost, and nobody can put them back.",
            "Nunca las mande por chat, como captura, recortadas o editadas, ni por correo con "
            "tamaño "
            "reducido: se pierden la fecha y el lugar y nadie los puede recuperar.",
        ),
        "measured on public files: re-encoded copies lose date, camera and place",
        "S",
    ),
    Row(
        "keep",
        Said(
            "Leave the photos on the phone until the matter is closed.",
            "Deje las fotos en el teléfono hasta que se cierre el asunto.",
        ),
    ),
)
IPHONE: tuple[Row, ...] = (
    Row(
        "cable",
        Said(
            "Best, by cable: Settings > Apps > Photos (older: Settings > Photos), at the end, "
            "choose "
            "Keep Originals. Plug into the computer, unlock, tap Trust, and import with the "
            "computer's own photo import. Keep the .HEIC files as they come.",
            "Lo mejor, por cable: Ajustes > Apps > Fotos (antes: Ajustes > Fotos), al final, elija "
            "Conservar originales. Conecte a la computadora, desbloquee, toque Confiar e importe "
            "con "
            "la importación de fotos de la computadora. Deje los .HEIC como vienen.",
        ),
        _PHONES,
    ),
    Row(
        "share",
        Said(
            "Without a cable: select the photos > Share > Options, at the top. Switch on All "
            "Photos "
            "Data and Location. Then Save to Files, or AirDrop to a Mac. The switch is off again "
            "next time.",
            "Sin cable: seleccione las fotos > Compartir > Opciones, arriba. Active Todos los "
            "datos "
            "de las fotos y Ubicación. Luego Guardar en Archivos o AirDrop a una Mac. La próxima "
            "vez "
            "estará apagado otra vez.",
        ),
        _PHONES,
    ),
    Row(
        "cloud",
        Said(
            "Where the phone keeps small copies (Optimise Storage), the originals lie in the "
            "cloud: "
            "download them on a computer as Unmodified Original.",
            "Si el teléfono guarda copias reducidas (Optimizar), los originales están en la nube: "
            "descárguelos en una computadora como Original sin modificar.",
        ),
        _PHONES,
    ),
)
ANDROID: tuple[Row, ...] = (
    Row(
        "cable",
        Said(
            "Best, by cable: plug into the computer, pull down the notifications, tap the USB "
            "notice "
            "and choose File transfer. On the computer open the phone > DCIM > Camera and copy the "
            "files.",
            "Lo mejor, por cable: conecte a la computadora, baje las notificaciones, toque el "
            "aviso de "
            "USB y elija Transferir archivos. En la computadora abra el teléfono > DCIM > Camera y "
            "copie los archivos.",
        ),
        _PHONES,
    ),
    Row(
        "files",
        Said(
            "Without a cable: open the phone's Files app > DCIM > Camera, select there, and share "
            "from there to a folder in the cloud. If asked about location, keep it. Where a send "
            "menu offers it, send as File or Document, never as Photo.",
            "Sin cable: abra la app Archivos > DCIM > Camera, seleccione ahí y comparta desde ahí "
            "a "
            "una carpeta en la nube. Si pregunta por la ubicación, consérvela. Si el menú lo "
            "ofrece, "
            "mande como Archivo o Documento, nunca como Foto.",
        ),
        _PHONES,
    ),
    Row(
        "backup",
        Said(
            "Where photos are backed up to a cloud, set the backup to original quality and "
            "download "
            "from a computer's browser.",
            "Si las fotos se respaldan en la nube, ponga la calidad original y descargue desde el "
            "navegador de una computadora.",
        ),
        _PHONES,
    ),
)
AFTER: tuple[Row, ...] = (
    Row(
        "into-the-folder",
        Said(
            "Put the files into photos/ of the job as they are: any names, any phone, in any "
            "order, "
            "twice does no harm.",
            "Ponga los archivos en photos/ del trabajo tal cual: cualquier nombre, cualquier "
            "teléfono, en cualquier orden; dos veces no estorba.",
        ),
    ),
    Row(
        "check",
        Said(
            "Run claimkit timeline on the job: each photo must show a time. Where one has none, "
            "get "
            "the original again while the phone still has it.",
            "Ejecute claimkit timeline en el trabajo: cada foto debe tener hora. Si una no la "
            "tiene, "
            "consiga otra vez el original mientras siga en el teléfono.",
        ),
    ),
)
