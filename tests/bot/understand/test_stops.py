"""STOP in all the ways that people say it, and what only looks like it.

Wordings from memory of what people send to lines of texts, and the reserved words that carriers and 47 CFR 64.1200(a)(10) name;
what a carrier or a court would take for a stop may be wider still.
"""

from __future__ import annotations

from datetime import datetime

import pytest

from bot.understand import read
from bot.understand.statements import Asked, Context, Request

NOW = datetime(2026, 7, 14, 9, 0)
CONTEXTS = (
    Context(now=NOW),
    Context(now=NOW, language="es", plots=("tomates",)),
    Context(now=NOW, plots=("tomatoes", "lawn"), asked=Asked(about="place", plot="tomatoes")),
    Context(now=NOW, asked=Asked(about="plant")),
)

STOPS = """
stpo | stopp | sotp | st0p | s t o p | S.T.O.P. | stop it | stop!!!!! | Stop. | STOP!! | "STOP" | stop please
pls stop | plz stop | stop thx | stop thanks | stop texting | stop texting me | stop messaging me
stop sending me texts | stop sending me messages | stop sending texts to this number | stop these texts
stop all texts | stop all messages | quit texting me | quit it | end texts | cancel texts | cancel my subscription
cancel subscription | cancel please | cancel service | cancelled | unsubscribe | unsuscribe | unsubcribe
unsubscibe | unsub | un subscribe | unsubscribe please | unsubscribe me please | please unsubscribe
i want to unsubscribe | opt out | optout | opt-out | opt me out | i want to opt out | i'd like to opt out | remove
remove me | remove my number | please remove my number | take me off | take me off the list | take me off your list
delete my number | no more texts | no more texts please | no more messages | dont text me | don't text me
don't text me anymore | do not text me | do not text this number | do not text | do not contact me
dont contact me again | never text me again | i don't want these texts | i don't want any more messages
i dont want this | leave me alone | lose my number | wrong number | wrong person | you have the wrong number
who is this stop | stop or i will report you | stop spamming me | this is spam stop | i revoke consent | revoke
revoke my consent | i withdraw my consent | end | END. | quit | Quit! | stopall | stop all | STOP-ALL | cease
arret | alto | ALTO! | alto por favor | alto ya | parar | pare | pare por favor | paren | paren ya | ya parenle
parale | para | baja | baja por favor | dar de baja | deme de baja | quiero darme de baja | quiero la baja
dame de baja | me quiero dar de baja | cancelar | cancelar por favor | cancele | cancelar mensajes
cancelar suscripcion | cancelar suscripción | cancelen mi suscripcion | detener | detengan los mensajes
detener mensajes | salir | salirme | quiero salir | quiero salirme de la lista | no mas | no más | no mas mensajes
no mas textos | ya no | ya no mas | ya no mas mensajes | no me manden mas mensajes | no me mande mas mensajes
no me mandes mas mensajes | ya no me manden | ya no me manden mensajes | ya no me mande nada | ya no me escriban
no me escriban | no me escriban mas | no me escriba | no me texteen | no me textees | ya no quiero mensajes
ya no quiero recibir mensajes | no quiero recibir mas mensajes | no quiero mas mensajes | no quiero esto
dejen de mandarme mensajes | dejen de escribirme | dejenme en paz | dejeme en paz | deje de mandar mensajes
deje de molestar | no me molesten | quiteme de la lista | quitenme de la lista | quitame de la lista
saquenme de la lista | sáqueme de su lista | borreme de la lista | borren mi numero | numero equivocado
número equivocado | se equivoco de numero | numero incorrecto | desuscribir | desuscribirme | anular suscripcion
basta | basta ya | Alto!! | alto gracias | STOP por favor | ya basta de mensajes | retiro mi consentimiento
renuncio a los mensajes | eliminar mi numero | no gracias, no me manden nada | stop 🛑 | 🛑 | stop.stop.stop
stop, please | I said stop | i told you to stop | please stop this | make it stop | STOP NOW | stop now please
STOP texting this number!!! | Stop messages | stop msgs | stop sms | halt
"""

OTHERS = """
when do I stop watering? | when should i stop watering | can I cancel tuesdays watering | muy alto
end of the row is dry | bajo | stop at 30 min? | should i stop the drip | i stopped the water at 5
stopped watering | stop the water | the rain stopped | water stopped coming out | the drip stopped working
the pump quit | pump quit working | my timer quit | end of june | at the end of the bed | the end of the hose leaks
i quit watering the lawn | stop watering tomatoes? | do i need to stop watering before harvest | bus stop garden
cancel the last reading | cancel that | cancel that last one | remove the last reading | remove the mulch?
take off the mulch? | start of the row | parar el riego? | cuando paro el riego | cuando debo parar de regar
ya pare el riego | ya paré el agua | pare el agua a las 5 | pare la bomba | paré de regar | para las rosas
para el jitomate 45 cb | para cuando riego | agua para manana | baja presion | baja la presion del agua
presion baja | esta baja la lectura | la parte baja esta seca | muy baja | baja humedad | alta 60 | pasto alto
cancele el riego de ayer | cancelar la ultima lectura | no mas agua? | no mas riego? | ya no riego? | ya no llueve
ya no hay agua | ya no quiero regar | no quiero regar hoy | salir agua | no sale agua | sale poca agua
detener el riego? | el riego se detuvo | no more water? | no more rain | no more watering? | no more questions
no more than 20 min | dont water today | do not water? | leave it alone? | leave the hose on? | wrong probe
wrong number, it was 54 | wrong number: 45 not 54 | numero equivocado, era 54 | quit raining | end watering at 6
ended at 6 am | the weekend | done | off | stop asking | stop asking me questions | delete tomatoes
remove tomatoes | borrar tomates | quitar tomates | optimum? | revoke last | salt | stops | step | top 12 in | shop
spot is dry | the spot by the fence is dry | the top is dry | not interested in the lawn today
the rain made me stop | when is it time to stop | cancel that | cancel it | text me tomorrow | can you text me at 5
my wife said stop watering the roses?
"""


def listed(block: str) -> list[str]:
    return [wording.strip() for line in block.strip().splitlines() for wording in line.split("|")]


def says_stop(text: str, context: Context) -> bool:
    return any(isinstance(each, Request) and each.want == "stop" for each in read(text, context).statements)


@pytest.mark.parametrize("text", listed(STOPS))
def test_a_stop_is_never_missed_whatever_was_asked(text: str) -> None:
    assert [says_stop(text, context) for context in CONTEXTS] == [True] * len(CONTEXTS)


@pytest.mark.parametrize("text", listed(OTHERS))
def test_what_tells_of_the_garden_silences_nobody(text: str) -> None:
    assert [says_stop(text, context) for context in CONTEXTS] == [False] * len(CONTEXTS)


def test_a_stop_in_spanish_is_confirmed_in_spanish() -> None:
    assert read("ya no me manden nada", Context(now=NOW, language="en")).language == "es"


def test_there_are_a_hundred_of_each() -> None:
    assert min(len(set(listed(STOPS))), len(set(listed(OTHERS)))) >= 100
