"""The texts of the receiving page, in English and Spanish.

A text is named for its place. Braces are filled by the page; nothing here is ever read as markup.
"""

from __future__ import annotations

from claimkit.rules.receiving import Said

TEXTS: dict[str, Said] = {
    # The frame
    "title": Said("Receiving: {job}", "Recepción: {job}"),
    "step": Said("Step {n} of {all}", "Paso {n} de {all}"),
    "next": Said("Next", "Siguiente"),
    "back": Said("Back", "Atrás"),
    "other-language": Said("Español", "English"),
    "leaving": Said("Driver will not wait", "El chofer no espera"),
    "close": Said("Close", "Cerrar"),
    "done": Said("Done", "Listo"),
    "remove": Said("Remove", "Quitar"),
    "change": Said("Change", "Cambiar"),
    "clear": Said("Clear", "Borrar"),
    "now": Said("Now", "Ahora"),
    "earlier": Said("5 min earlier", "5 min antes"),
    "not-stamped": Said("not yet", "todavía no"),
    "less": Said("One less: {what}, now {n}", "Uno menos: {what}, ahora {n}"),
    "more": Said("One more: {what}, now {n}", "Uno más: {what}, ahora {n}"),
    "unknown": Said("?", "?"),
    # What the page says of itself
    "draft-kept": Said("Draft of {time} is back.", "Se recuperó el borrador de las {time}."),
    "draft-denied": Said(
        "This phone keeps no draft here. If the page is closed, entries are lost: save before you "
        "leave it.",
        "Este teléfono no guarda borradores aquí. Si cierra la página se pierde todo: guarde antes "
        "de salir.",
    ),
    "zone-differs": Said(
        "This phone's clock is {phone}, the site's is {site}. Times are saved with the phone's "
        "offset.",
        "El reloj de este teléfono es {phone}, el del sitio {site}. Las horas se guardan con el "
        "del teléfono.",
    ),
    "clock-behind": Said(
        "This phone's clock is before the day this page was made, {made}. Set it, then stamp.",
        "El reloj de este teléfono es anterior a esta página, {made}. Ajústelo y luego marque.",
    ),
    # 1 Truck
    "truck": Said("Truck", "Camión"),
    "safety": Said("Nobody gets hurt for freight", "Nadie se lastima por una carga"),
    "who": Said("Who are you?", "¿Quién es usted?"),
    "your-name": Said("Your name", "Su nombre"),
    "which-shipment": Said("Which shipment?", "¿Qué embarque?"),
    "arrived": Said("The truck is here", "Llegó el camión"),
    "carrier": Said("Carrier", "Transportista"),
    "pro": Said("PRO number", "Número PRO"),
    "bill": Said("Bill of lading", "Conocimiento (BOL)"),
    "call": Said("Call if in doubt", "Llame si hay duda"),
    # 2 Photos
    "photos": Said("Photos", "Fotos"),
    "photos-how": Said(
        "Take them with the phone's camera app, in this order, before anything is moved. Tap what "
        "is taken.",
        "Tómelas con la cámara del teléfono, en este orden, antes de mover nada. Toque las que ya "
        "tomó.",
    ),
    "all-taken": Said("All taken", "Todas tomadas"),
    # 3 Count
    "count": Said("Count", "Conteo"),
    "on-paper": Said("On the driver's paper", "En el papel del chofer"),
    "here": Said("Counted here", "Contado aquí"),
    "all-here": Said("All {n} here", "Completo: {n}"),
    "cartons": Said("Cartons", "Cajas"),
    "in-wrap": Said("Inside the wrap, not counted", "Dentro del emplaye, sin contar"),
    # 4 Look
    "look": Said("Look", "Revisión"),
    "look-how": Said("Walk around every unit:", "Rodee cada bulto:"),
    "wrap": Said("Wrap and seal", "Emplaye y sello"),
    "intact": Said("Intact", "Enteros"),
    "broken": Said("Broken", "Rotos"),
    "indicators": Said("Tilt and shock indicators", "Indicadores de inclinación y golpe"),
    "none-fitted": Said("None fitted", "No tiene"),
    "not-tripped": Said("Not tripped", "Sin activar"),
    "tilt-tripped": Said("Tilt tripped", "Inclinación activado"),
    "shock-tripped": Said("Shock tripped", "Golpe activado"),
    "on-which": Said("On which?", "¿En cuál?"),
    "inspected": Said("What could you look at?", "¿Qué pudo revisar?"),
    "opened": Said("Opened, saw the goods", "Abierto, vi la mercancía"),
    "outside": Said("The outside only", "Solo por fuera"),
    "not-at-all": Said("Nothing", "Nada"),
    "why-not": Said("Why not?", "¿Por qué no?"),
    "damage": Said("Damage", "Daños"),
    "no-damage": Said("None seen", "Ninguno a la vista"),
    "add-damage": Said("Add a damage", "Agregar un daño"),
    "refused": Said("Refused, stays on the truck", "Rechazado, se queda en el camión"),
    # A damage
    "one-damage": Said("One damage", "Un daño"),
    "on-what": Said("On what?", "¿En qué?"),
    "which": Said("Which?", "¿Cuál?"),
    "which-hint": Said(
        "Number them as they stand; tap each damaged one.",
        "Numérelas como están; toque cada una dañada.",
    ),
    "how-many": Said("How many?", "¿Cuántas?"),
    "all": Said("All", "Todas"),
    "what": Said("What?", "¿Qué tiene?"),
    "something-else": Said("Something else", "Otra cosa"),
    "own-words": Said(
        "In English, as it shall stand on the receipt",
        "En inglés, como debe quedar en el recibo",
    ),
    "where": Said("Where on it?", "¿En qué parte?"),
    "size": Said("How big?", "¿De qué tamaño?"),
    "piece-of-order": Said("A piece of the order", "Una pieza del pedido"),
    "photograph-it": Said(
        "Photograph it: the whole piece, then close with a tape measure.",
        "Tome fotos: la pieza entera, luego de cerca con cinta métrica.",
    ),
    # 5 Write
    "write": Said("Write", "Escribir"),
    "write-how": Said(
        "Write these words on the carrier's copy before you sign.",
        "Escriba estas palabras en la copia del transportista antes de firmar.",
    ),
    "form": Said("The receipt is on", "El recibo está en"),
    "paper": Said("Paper", "Papel"),
    "device": Said("Driver's screen", "Pantalla del chofer"),
    "no-receipt": Said("There is none", "No hay"),
    "words": Said("Words for the receipt", "Palabras para el recibo"),
    "meaning": Said("In Spanish this says", "En español dice"),
    "letters": Said("{n} characters", "{n} caracteres"),
    "copy": Said("Copy", "Copiar"),
    "copied": Said("Copied.", "Copiado."),
    "not-copied": Said(
        "This phone does not let the page copy. Write it by hand.",
        "Este teléfono no deja copiar. Escríbalo a mano.",
    ),
    "wrote-this": Said("I wrote this", "Escribí esto"),
    "wrote-other": Said("I wrote something else", "Escribí otra cosa"),
    "wrote-nothing": Said("Nothing was written", "No se escribió nada"),
    "as-written": Said("Exactly as it stands there", "Exactamente como quedó ahí"),
    "words-changed": Said(
        "Your entries changed after that. What stands on the receipt is what you tapped.",
        "Sus datos cambiaron después. En el recibo queda lo que usted marcó.",
    ),
    # 6 Sign
    "sign": Said("Sign", "Firma"),
    "photo-first": Said("Photograph it first", "Primero la foto"),
    "photo-again": Said("Photograph it again", "Otra foto"),
    "we": Said("You", "Usted"),
    "we-signed": Said("I signed", "Firmé"),
    "we-declined": Said("I did not sign", "No firmé"),
    "driver": Said("Driver", "Chofer"),
    "driver-signed": Said("Signed by the words", "Firmó junto a lo escrito"),
    "driver-declined": Said("Declined to sign", "No quiso firmar"),
    "driver-left": Said("Would not wait", "No quiso esperar"),
    "write-that-too": Said("Write that too:", "Escriba también:"),
    "wrote-that": Said("I wrote that too", "También lo escribí"),
    "driver-name": Said("Driver's name", "Nombre del chofer"),
    "no-name": Said("Not given", "No lo dio"),
    "signature": Said("Driver's signature on this record", "Firma del chofer en este registro"),
    "signature-how": Said(
        "Only if the driver will not sign on the receipt. It is saved as a page with the words.",
        "Solo si el chofer no firma en el recibo. Se guarda como hoja con las palabras.",
    ),
    "open-pad": Said("Let the driver sign here", "Que el chofer firme aquí"),
    "pad": Said("Sign with a finger", "Firme con el dedo"),
    "signed-here": Said("Signed here at {time}.", "Firmado aquí a las {time}."),
    # 7 Save
    "save-step": Said("Save", "Guardar"),
    "driver-gone": Said("The driver is gone", "Se fue el chofer"),
    "open-matters": Said("Still open", "Falta"),
    "nothing-open": Said("Nothing is open.", "No falta nada."),
    "go": Said("Do it now", "Hacerlo"),
    "skip": Said("Cannot", "No se puede"),
    "skip-all": Said(
        "Driver would not wait: clear all", "El chofer no quiso esperar: quitar pendientes"
    ),
    "save": Said("Save the record", "Guardar el registro"),
    "share": Said("Send the record", "Enviar el registro"),
    "saved": Said("Saved: {name}", "Guardado: {name}"),
    "where-to": Said(
        "Put what was saved into the job's folder records. Then get the original photos off every "
        "phone.",
        "Ponga lo guardado en la carpeta records del trabajo. Luego saque las fotos originales de "
        "cada teléfono.",
    ),
    "corrects": Said("It corrects what was saved at {time}", "Corrige lo guardado a las {time}"),
    "show-text": Said("Show the record's text", "Mostrar el texto del registro"),
    "copy-text": Said("Copy the text", "Copiar el texto"),
    "again": Said("Begin a new record", "Empezar otro registro"),
    "again-sure": Said("Yes, throw this draft away", "Sí, tirar este borrador"),
    # Reminders, in the words of what is missing
    "open-arrived": Said("When the truck came", "Cuándo llegó el camión"),
    "open-who": Said("Who you are", "Quién es usted"),
    "open-shipment": Said("Which shipment", "Qué embarque"),
    "open-photos": Said("{n} photos not tapped", "{n} fotos sin marcar"),
    "open-units": Said("Count of units", "Conteo de bultos"),
    "open-cartons": Said("Count of cartons", "Conteo de cajas"),
    "open-wrap": Said("Wrap and seal", "Emplaye y sello"),
    "open-indicators": Said("Tilt and shock indicators", "Indicadores de inclinación y golpe"),
    "open-which": Said("Which unit it is on", "En qué bulto está"),
    "open-inspected": Said("What you could look at", "Qué pudo revisar"),
    "open-damage": Said("Damage, or none seen", "Daños, o ninguno a la vista"),
    "open-form": Said("What the receipt is on", "En qué está el recibo"),
    "open-words": Said("What was written on the receipt", "Qué se escribió en el recibo"),
    "open-before-signing": Said(
        "Photo of the words before signing", "Foto de lo escrito antes de firmar"
    ),
    "open-signed": Said("Whether you signed", "Si usted firmó"),
    "open-driver-signed": Said("Whether the driver signed", "Si el chofer firmó"),
    "open-driver": Said("Driver's name", "Nombre del chofer"),
    "open-after": Said("Photo of the signed receipt", "Foto del recibo firmado"),
    "open-left": Said("When the driver left", "Cuándo se fue el chofer"),
    "open-order": Said("Times are out of order", "Las horas no van en orden"),
}
