"use strict";
(function(){
const modules=(globalThis.stepwardModules??={});
modules["script/clock.js"]=(function(){
const CLOCKS_APART_MS=2000;
const BREAK_MS=15*60*1000;
const DEAD_MS=300;
function surelyPassed(from,to){
return Math.max(0,Math.min(to.wall-from.wall,to.running-from.running));
}
function perhapsPassed(from,to){
const wall=to.wall-from.wall;
const running=to.running-from.running;
return Math.max(0,wall,running);
}
function clocksAgree(from,to){
return Math.abs(to.wall-from.wall-(to.running-from.running))<=CLOCKS_APART_MS;
}
function dayOf(clock){
return new Date(clock.wall).toISOString().slice(0,10);
}
return{CLOCKS_APART_MS,BREAK_MS,DEAD_MS,surelyPassed,perhapsPassed,clocksAgree,dayOf};
})();
modules["script/decimal.js"]=(function(){
function decimalOf(written){
const parts=/^(-?)(\d+)(?:\.(\d+))?(?:e([+-]?\d+))?$/.exec(String(written));
if(!parts)throw new TypeError(`not a decimal: ${written}`);
const[,minus,whole,fraction="",exponent="0"]=parts;
let digits=BigInt(whole+fraction);
let scale=fraction.length-Number(exponent);
if(scale<0){
digits*=10n**BigInt(-scale);
scale=0;
}
return{digits:minus?-digits:digits,scale};
}
function sameScale(left,right){
const scale=Math.max(left.scale,right.scale);
const raise=(value)=>value.digits*10n**BigInt(scale-value.scale);
return[raise(left),raise(right),scale];
}
function compareDecimals(left,right){
const[a,b]=sameScale(decimalOf(left),decimalOf(right));
return a<b?-1:a>b?1:0;
}
function decimalsWithin(left,right,reach){
const[a,b,scale]=sameScale(decimalOf(left),decimalOf(right));
const gap={digits:a<b?b-a:a-b,scale};
const[apart,allowed]=sameScale(gap,decimalOf(reach));
return apart<=allowed;
}
return{decimalOf,compareDecimals,decimalsWithin};
})();
modules["script/formula.js"]=(function(){
const snapped=(value)=>Number(value.toPrecision(15));
const OF_TWO={
"+":(a,b)=>a+b,"-":(a,b)=>a-b,"*":(a,b)=>a*b,"/":(a,b)=>a/b,"^":(a,b)=>snapped(Math.pow(a,b)),
min:(a,b)=>Math.min(a,b),max:(a,b)=>Math.max(a,b),
};
const OF_ONE={
neg:(a)=>-a,abs:Math.abs,sqrt:Math.sqrt,exp:(a)=>snapped(Math.exp(a)),ln:(a)=>snapped(Math.log(a)),floor:Math.floor,ceil:Math.ceil,
round:(a)=>Math.floor(a+0.5),
};
function evaluateFormula(tokens,values){
const stack=[];
for(const token of tokens){
const value=valueOf(token,values,stack);
if(!Number.isFinite(value))return null;
stack.push(value);
}
return stack.length===1?stack[0]:null;
}
function valueOf(token,values,stack){
if(typeof token==="number")return token;
if(token.startsWith("$"))return Object.hasOwn(values,token.slice(1))?values[token.slice(1)]:NaN;
const right=stack.pop()??NaN;
if(Object.hasOwn(OF_ONE,token))return OF_ONE[token](right);
return Object.hasOwn(OF_TWO,token)?OF_TWO[token](stack.pop()??NaN,right):NaN;
}
return{evaluateFormula};
})();
modules["script/reading.js"]=(function(){
const{compareDecimals,decimalsWithin}=modules["script/decimal.js"];
const{evaluateFormula}=modules["script/formula.js"];
function readNumber(typed,field){
const text=typed.trim().replace(/^\u2212/,"-");
const refused=(reason)=>
({reason,field:field.id,from:field.from,to:field.to,unit:field.unit});
if(text==="")return refused("empty");
if(/[^\d.,+-]/.test(text))return refused("letters");
const digits=text.replace(/^-/,"");
if(/[+-]/.test(digits)||(digits!==text&&compareDecimals(field.from,"0")>=0))return refused("sign");
if(!/^\d{1,20}([.,]\d{1,20})?$/.test(digits))return refused("separators");
const value=plain((digits===text?"":"-")+digits.replace(",","."));
if(compareDecimals(value,field.from)<0||compareDecimals(value,field.to)>0){
return{...refused("range"),meant:likelySlips(value,field)};
}
if(field.whole&&value.includes("."))return refused("whole");
return{value};
}
function plain(decimal){
const short=decimal.replace(/^(-?)0+(?=\d)/,"$1");
return short.includes(".")?short.replace(/\.?0+$/,""):short;
}
function likelySlips(value,field){
const number=Number(value);
const slips=[[number/10,"ten"],[number*10,"ten"]];
if(field.unit==="mm")slips.push([number*25.4,"inch"]);
return slips
.map(([slip,because])=>({value:String(Math.round(slip*100)/100),because}))
.filter(({value:slip})=>/^-?\d+(\.\d+)?$/.test(slip))
.filter(({value:slip})=>compareDecimals(slip,field.from)>=0&&compareDecimals(slip,field.to)<=0)
.filter(({value:slip})=>!field.whole||!slip.includes("."));
}
function fieldsOf(step){
const{unit,from,to,readings}=step.measure;
return readings.length>0?readings:[{id:"value",unit,from,to}];
}
const LENGTHS=["mm","cm","m","in"];
const MOST_GAPS=20;
const MOST_READINGS=5;
function repeatable(step){
const{unit,readings}=step.measure;
return readings.length===0&&LENGTHS.includes(unit)&&!step.ways.some((way)=>way.sets.length+way.clears.length>0);
}
function readingName(n){
return n===1?"value":`value-${n}`;
}
function takenReadings(step,typed){
const values={};
const places={};
if(!repeatable(step)){
for(const field of fieldsOf(step)){
const read=readNumber(typed[field.id]??"",field);
if("reason"in read)return read;
values[field.id]=read.value;
if(!field.whole&&field.unit!=="")places[field.id]=lastPlace(typed[field.id]);
}
return{values,places,single:[],spread:null};
}
const[field]=fieldsOf(step);
const gaps=readNumber(typed.gaps===undefined||typed.gaps===""?"1":typed.gaps,{id:"gaps",unit:"",from:"1",to:String(MOST_GAPS),whole:true});
if("reason"in gaps)return gaps;
const times=Number(gaps.value);
const names=Array.from({length:MOST_READINGS},(_,place)=>readingName(place+1)).filter((name,place)=>place===0||(typed[name]??"").trim()!=="");
const single=[];
for(const name of names){
const wide={...field,id:name,from:String(Number(field.from)*times),to:String(Number(field.to)*times)};
const read=readNumber(typed[name]??"",wide);
if("reason"in read)return read;
single.push(Number(read.value)/times);
}
const mean=single.reduce((sum,value)=>sum+value,0)/single.length;
const exact=single.length===1&&times===1?readNumber(typed.value,field):null;
values.value=exact!==null&&"value"in exact?exact.value:String(Math.round(mean*1000)/1000);
places.value=lastPlace(typed.value)/times;
const spread=single.length>1?String(Math.round((Math.max(...single)-Math.min(...single))*1000)/1000):null;
return{values,places,single:single.map((value)=>String(Math.round(value*1000)/1000)),spread};
}
function lastPlace(typed){
const places=typed.trim().split(/[.,]/)[1]?.length??0;
return 10**-places;
}
function nearAnEdge(step,values,places,model,index){
return fieldsOf(step).some((field)=>{
const place=places[field.id];
if(place===undefined)return false;
return[-place,place].some((change)=>{
const moved=Math.round((Number(values[field.id])+change)*1e6)/1e6;
if(moved<Number(field.from)||moved>Number(field.to))return false;
const result=measuredValue(step,{...values,[field.id]:String(moved)},model);
if("reason"in result)return false;
const other=wayOfValue(step,result.value,model);
return other>=0&&deed(step.ways[other])!==deed(step.ways[index]);
});
});
}
function deed(way){
return JSON.stringify([way.then,way.sets,way.clears]);
}
function measuredValue(step,values,model){
const{unit,from,to,readings,formula}=step.measure;
if(readings.length===0)return{value:values.value};
const names=Object.fromEntries(Object.entries(model?.figures??{}).map(([name,figure])=>[name,Number(figure.value)]));
for(const{id}of readings)names[id]=Number(values[id]);
const result=formula?.rpn?evaluateFormula(formula.rpn,names):null;
if(result===null)return{reason:"no-value",field:readings[0].id};
if(compareDecimals(result,from)<0||compareDecimals(result,to)>0){
return{reason:"range",field:readings[0].id,from,to,unit};
}
return{value:String(result)};
}
function edgeOf(limit,model){
return limit.value??model?.figures[limit.figure]?.value??null;
}
function wayOfValue(step,value,model){
return step.measure.match?matchedWay(step,value,model):bandOf(step,value,model);
}
function bandOf(step,value,model){
for(const[index,way]of step.ways.entries()){
if(way.kind!=="band")continue;
if(way.limit===null)return index;
const edge=edgeOf(way.limit,model);
if(edge===null)return-1;
const side=compareDecimals(value,edge);
if(side<0||(side===0&&way.limit.inside))return index;
}
return-1;
}
function matchedWay(step,value,model){
const{within}=step.measure.match;
const named=(name)=>step.ways.findIndex((way)=>way.kind==="part"&&way.text===name);
const hits=[...step.ways.entries()].filter(([,way])=>{
const entry=way.kind==="part"&&Object.hasOwn(model?.repeats??{},way.text)?model.repeats[way.text]:null;
return entry!==null&&decimalsWithin(value,entry.value,within);
});
if(hits.length===0)return named("none");
return hits.every(([,way])=>way.then===hits[0][1].then)?hits[0][0]:named("several");
}
function bandShows(step,index,shownBy,model){
if(!shownBy||shownBy.unit!==step.measure.unit)return false;
const bands=step.ways.filter((way)=>way.kind==="band");
const place=bands.indexOf(step.ways[index]);
const lower=place===0?step.measure.from:edgeOf(bands[place-1].limit,model);
const upper=bands[place].limit===null?step.measure.to:edgeOf(bands[place].limit,model);
if(lower===null||upper===null)return false;
const low=shownBy.from===null||compareDecimals(lower,shownBy.from)>=0;
return low&&compareDecimals(upper,shownBy.upTo)<=0;
}
return{readNumber,fieldsOf,MOST_GAPS,MOST_READINGS,repeatable,readingName,takenReadings,nearAnEdge,measuredValue,wayOfValue,bandShows};
})();
modules["script/facts.js"]=(function(){
const{bandShows}=modules["script/reading.js"];
const PERSONS=["ordinary","instructed","skilled"];
function qualified(person,least){
return least===null||PERSONS.indexOf(person)>=PERSONS.indexOf(least);
}
function lowerPerson(one,other){
return qualified(one,other)?other:one;
}
function firstFacts(person){
return{ages:{},holds:[],mayHold:[],waited:{},person,checked:false,uncheckedCure:false};
}
function cautionFresh(flow,facts,hazard){
if(!Object.hasOwn(facts.ages,hazard))return false;
const age=facts.ages[hazard];
return age.steps<=flow.cautionWithin.steps&&age.ms<=flow.cautionWithin.seconds*1000;
}
function agedBy(facts,ms){
return{...facts,ages:mapAges(facts.ages,(age)=>({steps:age.steps,ms:age.ms+ms}))};
}
function agedByStep(facts){
return{...facts,ages:mapAges(facts.ages,(age)=>({steps:age.steps+1,ms:age.ms}))};
}
function mapAges(ages,change){
return Object.fromEntries(Object.entries(ages).map(([hazard,age])=>[hazard,change(age)]));
}
function cautionShown(facts,hazard){
return{...facts,ages:{...facts.ages,[hazard]:{steps:0,ms:0}}};
}
function cautionsVoid(facts){
return{...facts,ages:{}};
}
function conditionOf(flow,id){
return flow.conditions.find((condition)=>condition.id===id);
}
function cleared(flow,facts,id,seen=[]){
if(seen.includes(id))return facts;
const without=(list)=>list.filter((other)=>other!==id);
const voided=flow.hazards.filter((hazard)=>hazard.requires.includes(id));
let next={...facts,holds:without(facts.holds),mayHold:without(facts.mayHold),waited:{...facts.waited,[id]:0},ages:withoutAges(facts.ages,voided)};
for(const later of flow.conditions){
if(later.after===id)next=cleared(flow,next,later.id,[...seen,id]);
}
return next;
}
function withoutAges(ages,hazards){
return Object.fromEntries(Object.entries(ages).filter(([id])=>!hazards.some((hazard)=>hazard.id===id)));
}
function set(flow,facts,id,shown=false){
const condition=conditionOf(flow,id);
if(!condition)return facts;
let next=facts;
for(const other of condition.clears)next=cleared(flow,next,other);
const returning=flow.hazards.filter((hazard)=>hazard.returnsWith.includes(id));
next={...next,ages:withoutAges(next.ages,returning)};
if(condition.after!==null&&!next.holds.includes(condition.after))return next;
if(condition.takes!==null&&!shown)return next;
const withId=(list)=>(list.includes(id)?list:[...list,id]);
return{...next,holds:withId(next.holds),mayHold:withId(next.mayHold)};
}
function afterStep(flow,facts,step){
let next=facts;
for(const id of step.clears)next=cleared(flow,next,id);
for(const id of step.sets)next=set(flow,next,id);
return step.cures.length>0?{...next,checked:false,uncheckedCure:true}:next;
}
function afterWay(flow,facts,step,index,models){
const way=step.ways[index];
let next=facts;
for(const id of way.clears)next=cleared(flow,next,id);
if(way.kind==="band")next=afterReading(flow,next,step,index,models);
else for(const id of way.sets)next=set(flow,next,id);
if(way.person!==null)next={...next,person:way.person};
return way.fixed?{...next,checked:true,uncheckedCure:false}:next;
}
function afterReading(flow,facts,step,index,models){
const decided=new Set(step.ways.filter((way)=>way.kind==="band").flatMap((way)=>way.sets));
const shows=(id)=>models.every((model)=>bandShows(step,index,conditionOf(flow,id)?.shownBy,model));
let next=facts;
for(const id of decided){
if(conditionOf(flow,id)?.shownBy&&!shows(id))next=cleared(flow,next,id);
}
for(const id of step.ways[index].sets)next=set(flow,next,id,shows(id));
return next;
}
function takesMs(flow,id,models){
const takes=conditionOf(flow,id)?.takes;
if(!takes)return 0;
const onModel=(model)=>takes.seconds??takes.byModel[model?.id]??Infinity;
return Math.max(...models.map(onModel))*1000;
}
function waited(flow,facts,ms,models){
let next=facts;
const running=flow.conditions.filter((condition)=>condition.takes!==null&&facts.holds.includes(condition.after));
for(const{id}of running){
next={...next,waited:{...next.waited,[id]:(Object.hasOwn(next.waited,id)?next.waited[id]:0)+ms}};
if(next.waited[id]>=takesMs(flow,id,models))next=set(flow,next,id,true);
}
return next;
}
function afterBack(then,now){
const both=Object.keys(then.waited).filter((id)=>Object.hasOwn(now.waited,id));
return{
ages:now.ages,
holds:then.holds.filter((id)=>now.holds.includes(id)),
mayHold:[...new Set([...then.mayHold,...now.mayHold])],
waited:Object.fromEntries(both.map((id)=>[id,Math.min(then.waited[id],now.waited[id])])),
person:lowerPerson(then.person,now.person),
checked:then.checked&&now.checked,
uncheckedCure:then.uncheckedCure||now.uncheckedCure,
};
}
function afterBreak(flow,facts,person,confirmed){
let next={...cautionsVoid(facts),person};
for(const id of facts.holds){
if(!confirmed.includes(id))next=cleared(flow,next,id);
}
return{...next,mayHold:facts.mayHold};
}
function standsInTheWay(flow,facts,step,today){
const after=afterStep(flow,facts,step);
const missing=[];
for(const{hazard:id,waived}of step.exposes){
const hazard=flow.hazards.find((one)=>one.id===id);
const holds=(need)=>facts.holds.includes(need)&&after.holds.includes(need);
if(!(waived.requires>=today))missing.push(...hazard.requires.filter((need)=>!holds(need)).map(asCondition));
if(!(waived.least>=today)&&!qualified(facts.person,hazard.least))missing.push(asPerson(hazard.least));
}
missing.push(...step.requires.filter((need)=>!facts.holds.includes(need)).map(asCondition));
const before=step.waitFor===null?null:conditionOf(flow,step.waitFor)?.after??null;
if(before!==null&&!facts.holds.includes(before))missing.push(asCondition(before));
if(!qualified(facts.person,step.least))missing.push(asPerson(step.least));
return missing.filter((one,place)=>missing.findIndex((other)=>other.id===one.id)===place);
}
function asCondition(id){
return{kind:"condition",id};
}
function asPerson(id){
return{kind:"person",id};
}
return{PERSONS,qualified,firstFacts,cautionFresh,agedBy,agedByStep,cautionShown,cautionsVoid,cleared,set,afterStep,afterWay,takesMs,waited,afterBack,afterBreak,standsInTheWay};
})();
modules["script/run-state.js"]=(function(){
const{cautionFresh,takesMs}=modules["script/facts.js"];
function neverStarts(procedure){
if(procedure.status==="withdrawn"||procedure.start===null)return{kind:"withdrawn",id:procedure.id};
return procedure.requires.length>0?{kind:"task",id:procedure.id}:null;
}
function procedureOf(flow,state){
return flow.procedures[state.frames.at(-1)?.procedure??flow.procedure];
}
function stepOf(flow,state){
return state.step===null?null:procedureOf(flow,state).steps[state.step]??null;
}
function possibleModels(flow,state){
const ids=state.model===null?flow.procedures[flow.procedure].models:[state.model];
const models=flow.models.filter((model)=>ids.includes(model.id));
return models.length>0?models:[null];
}
function countKey(run,step){
return`${run.frames.at(-1).id}/${step}`;
}
function timesDone(run,step){
return run.counts[countKey(run,step)]??0;
}
function withCount(run,step){
return{...run,counts:{...run.counts,[countKey(run,step)]:timesDone(run,step)+1}};
}
function handOver(run,missing,clock,reading={}){
const entry={what:"hand-over",step:run.step,missing,...reading,at:clock.wall};
return{...run,wait:null,screen:{name:"hand-over",missing},log:[...run.log,entry]};
}
function cautionsDue(flow,run,step){
const own=step.cautions.filter((id)=>!run.arrival.shown.includes(id));
const needed=[...step.cautions,...step.exposes.map((one)=>one.hazard)];
const stale=needed.filter((id)=>!cautionFresh(flow,run.facts,id));
return flow.hazards.map((hazard)=>hazard.id).filter((id)=>own.includes(id)||stale.includes(id));
}
function waitMs(flow,run,step){
const plain=(step.wait??0)*1000;
const reached=step.waitFor===null||run.facts.holds.includes(step.waitFor);
return reached?plain:Math.max(plain,takesMs(flow,step.waitFor,possibleModels(flow,run)));
}
function noted(run,step,index,reading,clock){
const frame=run.frames.at(-1);
const told=run.caller&&["answer","band","part","unsure"].includes(step.ways[index].kind)?{told:true}:{};
const entry={what:"way",procedure:frame.procedure,step:step.id,way:index,...told,...reading,at:clock.wall,depth:run.frames.length-1};
return{...run,path:[...run.path,entry],log:[...run.log,entry]};
}
function withSnapshot(state,step,way){
const{frames,facts,counts,path}=state;
const acts=step.sets.length+step.clears.length+step.cures.length+(way?way.sets.length+way.clears.length:0)>0;
const again=state.arrival.again&&step.kind==="do"?withCount(state,step.id):state;
const snapshot={frames,step:state.step,facts,counts,path:path.length,deeds:acts?[{procedure:frames.at(-1).procedure,step:step.id}]:[]};
return{...again,history:[...state.history,snapshot]};
}
function withDeed(run,call){
const last=run.history.at(-1);
const deeds=[...last.deeds,{procedure:run.frames.at(-1).procedure,step:call.id}];
return{...run,history:[...run.history.slice(0,-1),{...last,deeds}]};
}
function leftBehind(flow,facts){
return flow.conditions.filter((one)=>one.mustClear&&facts.mayHold.includes(one.id)).map((one)=>one.id);
}
function notChecked(facts,step){
const unproved=(step.outcome==="fixed"&&!facts.checked)||(step.outcome==="no-fault"&&facts.uncheckedCure);
return unproved?[{kind:"check",id:step.outcome}]:[];
}
function howChecked(flow,state){
if(!state.facts.checked)return null;
const check=state.path.findLast((entry)=>entry.what==="way"&&flow.procedures[entry.procedure].steps[entry.step].ways[entry.way].fixed);
return check?.told?"told":"seen";
}
function isAction(flow,state,then,key){
const[frameId,step]=key.split("/");
const frame=[...state.frames,...then.frames].find((one)=>String(one.id)===frameId);
return!frame||["do","carry-out"].includes(flow.procedures[frame.procedure].steps[step]?.kind);
}
return{neverStarts,procedureOf,stepOf,possibleModels,timesDone,withCount,handOver,cautionsDue,waitMs,noted,withSnapshot,withDeed,leftBehind,notChecked,howChecked,isAction};
})();
modules["script/flow-state.js"]=(function(){
const{BREAK_MS,clocksAgree,dayOf,DEAD_MS,perhapsPassed,surelyPassed}=modules["script/clock.js"];
const{afterBack,afterBreak,afterStep,afterWay,agedBy,agedByStep,cautionShown,firstFacts,PERSONS,qualified,standsInTheWay,waited}=modules["script/facts.js"];
const{fieldsOf,measuredValue,MOST_READINGS,nearAnEdge,readingName,repeatable,takenReadings,wayOfValue}=modules["script/reading.js"];
const{cautionsDue,handOver,isAction,leftBehind,neverStarts,notChecked,noted,possibleModels,procedureOf,stepOf,timesDone,waitMs,withCount,withDeed,withSnapshot}=modules["script/run-state.js"];
const MOST_SILENT_STEPS=1000;
function begin(flow,clock){
const never=neverStarts(flow.procedures[flow.procedure]);
return{
schema:"stepward/run/1",edition:flow.edition,screen:never===null?{name:"start"}:{name:"refused",missing:[never]},frames:[],step:null,arrival:{shown:[],counted:false,again:false},
facts:firstFacts("ordinary"),counts:{},model:null,caller:false,about:{ticket:"",serial:"",counter:""},frameCount:0,
path:[],log:[],history:[],notice:null,refusal:null,wait:null,typed:{},last:clock,touched:clock,changed:longAgo(clock),
};
}
function longAgo(clock){
return{wall:clock.wall-DEAD_MS,running:clock.running-DEAD_MS};
}
function advance(flow,state,event,clock){
if(event.type==="restart")return{...begin(flow,clock),changed:clock};
if(event.type==="reopen")return reopened(flow,state,event,clock);
const timed=withTime(state,clock);
if(event.type==="tick")return timed;
const since=clock.running-state.changed.running;
if(since>=0&&since<DEAD_MS)return timed;
if(onBreak(state,event,clock))return{...paused(timed),touched:clock,changed:clock};
const handler=HANDLERS[timed.screen.name]?.[event.type]??HANDLERS.any[event.type];
const next=handler?handler(flow,{...timed,notice:null,refusal:null},event,clock):timed;
return sealed(state,next,clock);
}
function sealed(before,after,clock){
const same=after.step===before.step&&after.frames.length===before.frames.length&&after.screen.name===before.screen.name&&after.screen.hazard===before.screen.hazard&&after.path.length===before.path.length;
return{...after,touched:clock,changed:same?before.changed:clock};
}
function withTime(state,clock){
const facts=agedBy(state.facts,perhapsPassed(state.last,clock));
if(state.wait===null)return{...state,facts,last:clock};
const wait={...state.wait,counted:state.wait.counted+surelyPassed(state.last,clock),doubt:state.wait.doubt||!clocksAgree(state.last,clock)};
return{...state,facts,wait,last:clock};
}
function onBreak(state,event,clock){
const atRest=["ending","hand-over"].includes(state.screen.name)&&event.type!=="back";
return!atRest&&!["start","refused","resume"].includes(state.screen.name)&&perhapsPassed(state.touched,clock)>BREAK_MS;
}
function paused(state){
return{...state,screen:{name:"resume"},typed:{},notice:null,refusal:null};
}
function reopened(flow,state,event,clock){
if(state.edition!==flow.edition)return{...begin(flow,clock),notice:{name:"older-edition"}};
const now={...(event.samePage?withTime(state,clock):state),last:clock,touched:clock,changed:longAgo(clock)};
return["start","refused"].includes(state.screen.name)?{...begin(flow,clock)}:paused(now);
}
const HANDLERS={
start:{start:started},
caution:{acknowledge:acknowledged},
step:{answer:answered,reading:measured,next:done,"begin-wait":waitBegun,meant:retyped},
wait:{next:waitOver},
resume:{confirm:resumed},
any:{back:wentBackSo,note:remarked,machine:identified,"take-over":(_flow,state)=>(state.frames.length>0?paused(state):state)},
};
function started(flow,state,event,clock){
const procedure=flow.procedures[flow.procedure];
const models=[...procedure.models,"unknown",...(procedure.models.length<flow.models.length?["other"]:[])];
const modelSaid=flow.models.length===0||models.includes(event.model);
const missing=[!modelSaid&&"model",!PERSONS.includes(event.person)&&"person",typeof event.alone!=="boolean"&&"alone",typeof event.caller!=="boolean"&&"caller"].filter(Boolean);
if(missing.length>0)return{...state,typed:event,refusal:{reason:"unanswered",missing}};
const refuse=(why)=>({...state,screen:{name:"refused",missing:[why]}});
if(event.model==="other")return refuse({kind:"model",id:procedure.id});
if(!event.alone)return refuse({kind:"alone",id:procedure.id});
if(!qualified(event.person,procedure.for))return refuse({kind:"person",id:procedure.for});
const model=flow.models.length===0||event.model==="unknown"?null:event.model;
const run={
...state,model,caller:event.caller,about:aboutOf(event),facts:firstFacts(event.person),frames:[{id:0,procedure:flow.procedure,caller:null}],frameCount:1,
log:[{what:"start",model:event.model??null,person:event.person,caller:event.caller,at:clock.wall,...aboutOf(event)}],
};
return remarked(flow,arrived(flow,run,procedure.start,clock),{type:"note",text:event.remark},clock);
}
const LONGEST_TEXT=200;
function aboutOf(event){
const text=(value)=>String(value??"").replace(/\s+/g," ").trim().slice(0,LONGEST_TEXT);
return{ticket:text(event.ticket),serial:text(event.serial),counter:text(event.counter)};
}
function remarked(_flow,state,event,clock){
const text=String(event.text??"").replace(/\s+/g," ").trim().slice(0,LONGEST_TEXT);
if(text===""||state.frames.length===0)return state;
const entry={what:"note",procedure:state.frames.at(-1).procedure,step:state.step,text,at:clock.wall};
return{...state,log:[...state.log,entry]};
}
function identified(_flow,state,event,clock){
const{serial}=aboutOf(event);
if(serial===""||state.frames.length===0)return state;
return{...state,about:{...state.about,serial},log:[...state.log,{what:"machine",serial,at:clock.wall}]};
}
function arrived(flow,state,target,clock){
let run=state;
let id=target;
for(let silent=0;silent<MOST_SILENT_STEPS;silent++){
const step=procedureOf(flow,run).steps[id];
run={...run,step:id,wait:null,typed:{},arrival:{shown:[],counted:false,again:false}};
if(!step)return handOver(run,[{kind:"step",id}],clock);
const limit=step.atMost!==null&&timesDone(run,id)>=step.atMost;
const[next,missing]=limit?byWay(run,step,step.ways.findIndex((way)=>way.kind==="otherwise"),clock)
:step.kind==="by-model"?byModel(flow,run,step,clock)
:step.kind==="carry-out"?intoCallee(flow,run,step,clock)
:[null,null];
if(missing)return handOver(run,missing,clock);
if(next===null)return guarded(flow,run,clock);
run=next.run;
id=next.step;
}
return handOver(run,[{kind:"step",id}],clock);
}
function byWay(run,step,index,clock){
const way=step.ways[index];
if(!way)return[null,[{kind:"way",id:step.id}]];
return[{run:noted(run,step,index,{},clock),step:way.then},null];
}
function byModel(flow,run,step,clock){
const named=(text)=>step.ways.findIndex((way)=>way.kind==="model"&&way.text===text);
const indices=possibleModels(flow,run).map((model)=>(model!==null&&named(model.id)>=0?named(model.id):named("others")));
const targets=new Set(indices.map((index)=>step.ways[index]?.then));
if(targets.size!==1||indices[0]<0)return[null,[{kind:"model",id:step.id}]];
return byWay(run,step,indices[0],clock);
}
function intoCallee(flow,run,step,clock){
const callee=flow.procedures[step.callee];
if(!callee||callee.start===null||callee.status==="withdrawn")return[null,[{kind:"withdrawn",id:step.callee}]];
const missing=callee.requires.filter((need)=>!run.facts.holds.includes(need)).map((id)=>({kind:"condition",id}));
if(!qualified(run.facts.person,callee.for))missing.push({kind:"person",id:callee.for});
if(!possibleModels(flow,run).every((model)=>model===null||callee.models.includes(model.id)))missing.push({kind:"model",id:step.callee});
if(missing.length>0)return[null,missing];
const counted=withCount(run,step.id);
const entry={what:"carry-out",procedure:procedureOf(flow,run).id,step:step.id,callee:step.callee,at:clock.wall,depth:run.frames.length-1};
const frame={id:run.frameCount,procedure:step.callee,caller:step.id};
const inside={...counted,facts:agedByStep(run.facts),frames:[...run.frames,frame],frameCount:run.frameCount+1,path:[...run.path,entry],log:[...run.log,entry]};
return[{run:inside,step:callee.start},null];
}
function guarded(flow,run,clock){
const step=stepOf(flow,run);
const missing=standsInTheWay(flow,run.facts,step,dayOf(clock));
for(const frame of run.frames){
const least=flow.procedures[frame.procedure].for;
if(!qualified(run.facts.person,least)&&!missing.some((one)=>one.id===least))missing.push({kind:"person",id:least});
}
if(step.measure?.readings.length>0&&!step.measure.formula?.rpn)missing.push({kind:"formula",id:step.id});
if(!Number.isFinite(waitMs(flow,run,step)))missing.push({kind:"model",id:step.id});
if(missing.length>0)return handOver(run,missing,clock);
const hazard=cautionsDue(flow,run,step)[0];
if(hazard!==undefined)return{...run,screen:{name:"caution",hazard}};
const counted=run.arrival.counted?run:withCount({...run,arrival:{...run.arrival,counted:true}},step.id);
if(counted.wait!==null)return{...counted,screen:{name:"wait"}};
const over=step.outcome!==null&&run.frames.length===1&&waitMs(flow,counted,step)===0;
return over?ended(flow,counted,step,clock):{...counted,screen:{name:"step"}};
}
function acknowledged(flow,state,event,clock){
if(event.hazard!==state.screen.hazard)return state;
const entry={what:"caution",hazard:event.hazard,step:state.step,caller:state.caller,at:clock.wall};
const run={...state,facts:cautionShown(state.facts,event.hazard),arrival:{...state.arrival,shown:[...state.arrival.shown,event.hazard]},log:[...state.log,entry]};
return guarded(flow,run,clock);
}
function answered(flow,state,event,clock){
const step=stepOf(flow,state);
const way=step.ways[event.way];
const offered=way&&(way.kind==="unsure"||(step.kind==="ask"&&way.kind==="answer"));
return offered?left(flow,state,step,event.way,{},clock):state;
}
const EXTRA_FIELDS=["gaps",...Array.from({length:MOST_READINGS-1},(_,place)=>readingName(place+2))];
function measured(flow,state,event,clock){
const step=stepOf(flow,state);
if(step.kind!=="measure")return state;
const names=[...fieldsOf(step).map((field)=>field.id),...(repeatable(step)?EXTRA_FIELDS:[])];
const said=(name)=>String(event.typed?.[name]??"").trim();
const typed=Object.fromEntries(names.filter((name)=>!EXTRA_FIELDS.includes(name)||said(name)!=="").map((name)=>[name,said(name)]));
const refuse=(refusal)=>({...state,typed,refusal});
const taken=takenReadings(step,typed);
if("reason"in taken)return refuse(taken);
const{values,places,single,spread}=taken;
const models=possibleModels(flow,state);
const results=[];
for(const model of models){
const result=measuredValue(step,values,model);
if("reason"in result)return refuse(result);
results.push(result.value);
}
const ways=models.map((model,place)=>wayOfValue(step,results[place],model));
const same=new Set(ways.map((index)=>step.ways[index]?.then));
const first=state.arrival.near??null;
if(same.size!==1||ways[0]<0)return handOver({...state,typed},[{kind:"model",id:step.id}],clock,{typed,...(first===null?{}:{first})});
const apart=models.some((model)=>new Set(single.map((value)=>step.ways[wayOfValue(step,value,model)]?.then)).size>1);
if(apart)return refuse({reason:"apart",field:"value",spread,unit:step.measure.unit});
const near=models.some((model,place)=>nearAnEdge(step,values,places,model,ways[place]));
if(near&&first===null){
return{...state,typed:{},arrival:{...state.arrival,near:typed},refusal:{reason:"near",field:fieldsOf(step)[0].id,value:results[0],unit:step.measure.unit}};
}
const value=new Set(results).size===1?{value:results[0]}:{};
const more={...(spread===null?{}:{spread}),...(first===null?{}:{first}),...(near?{near}:{})};
return left(flow,{...state,typed:{}},step,ways[0],{typed,...value,...more},clock);
}
function retyped(_flow,state,event){
return{...state,typed:{...state.typed,[event.field]:String(event.value)}};
}
function waitBegun(flow,state,_event,clock){
const step=stepOf(flow,state);
const needed=step.kind==="do"?waitMs(flow,state,step):0;
if(needed===0)return state;
const entry={what:"wait-begun",step:step.id,seconds:Math.ceil(needed/1000),at:clock.wall};
return{...state,wait:{needed,counted:0,doubt:false,begun:clock.wall},screen:{name:"wait"},log:[...state.log,entry]};
}
function waitOver(flow,state,_event,clock){
if(state.wait.counted<state.wait.needed)return state;
const doubt=state.wait.doubt?{doubt:true}:{};
const entry={what:"wait-over",step:state.step,seconds:Math.floor(state.wait.counted/1000),needed:Math.ceil(state.wait.needed/1000),...doubt,at:clock.wall};
const facts=waited(flow,state.facts,state.wait.counted,possibleModels(flow,state));
const run={...state,facts,wait:null,log:[...state.log,entry]};
return finished(flow,run,stepOf(flow,state),clock);
}
function done(flow,state,_event,clock){
const step=stepOf(flow,state);
return step.kind==="do"&&waitMs(flow,state,step)===0?finished(flow,state,step,clock):state;
}
function finished(flow,state,step,clock){
if(step.outcome!==null)return ended(flow,state,step,clock);
return left(flow,state,step,step.ways.findIndex((way)=>way.kind==="next"),{},clock);
}
function left(flow,state,step,index,reading,clock){
const way=step.ways[index];
if(!way)return handOver(state,[{kind:"way",id:step.id}],clock);
const remembered=withSnapshot(state,step,way);
const facts=agedByStep(afterWay(flow,afterStep(flow,state.facts,step),step,index,possibleModels(flow,state)));
return arrived(flow,noted({...remembered,facts},step,index,reading,clock),way.then,clock);
}
function ended(flow,state,step,clock){
const facts=agedByStep(afterStep(flow,state.facts,step));
const entry={what:"ending",procedure:procedureOf(flow,state).id,step:step.id,outcome:step.outcome,at:clock.wall,depth:state.frames.length-1};
const log=[...state.log,entry];
if(state.frames.length===1)return{...state,facts,log,wait:null,screen:{name:"ending",left:leftBehind(flow,facts),missing:notChecked(facts,step)}};
const known=withSnapshot(state,step,null);
return backInCaller(flow,{...known,facts,log,path:[...known.path,entry]},step,clock);
}
function backInCaller(flow,known,step,clock){
const arrival={shown:[],counted:false,again:false};
const outer={...known,frames:known.frames.slice(0,-1),step:known.frames.at(-1).caller,arrival};
const call=stepOf(flow,outer);
const index=call.ways.findIndex((way)=>way.kind==="outcome"&&way.text===step.outcome);
if(index<0)return handOver(outer,[{kind:"outcome",id:step.outcome}],clock);
const facts=afterWay(flow,afterStep(flow,outer.facts,call),call,index,possibleModels(flow,outer));
const run=call.cures.length>0?withDeed(outer,call):outer;
return arrived(flow,noted({...run,facts},call,index,{},clock),call.ways[index].then,clock);
}
function wentBackSo(flow,state,event,clock){
let run=state;
const deeds=[];
for(let left=Math.min(event.times??1,state.history.length);left>0;left--){
run=wentBack(flow,run,event,clock);
deeds.unshift(...(run.notice?.deeds??[]));
}
return deeds.length>0?{...run,notice:{name:"stays-done",deeds}}:run;
}
function wentBack(flow,state,_event,clock){
if(state.screen.name==="resume"||state.history.length===0)return state;
const then=state.history.at(-1);
const counts={...then.counts};
for(const[key,times]of Object.entries(state.counts)){
if(isAction(flow,state,then,key))counts[key]=Math.max(times,counts[key]??0);
}
const notice=then.deeds.length>0?{name:"stays-done",deeds:then.deeds}:null;
const entry={what:"back",to:then.step,deeds:then.deeds,at:clock.wall};
const run={
...state,frames:then.frames,step:then.step,facts:afterBack(then.facts,state.facts),counts,path:state.path.slice(0,then.path),history:state.history.slice(0,-1),
wait:null,typed:{},arrival:{shown:[],counted:true,again:true},notice,log:[...state.log,entry],screen:{name:"back"},
};
return guarded(flow,run,clock);
}
const RAISED=["another","mistaken"];
function resumed(flow,state,event,clock){
const asked=state.facts.holds.filter((id)=>typeof event.conditions?.[id]!=="boolean");
const raised=PERSONS.includes(event.person)&&!qualified(state.facts.person,event.person);
const missing=[!PERSONS.includes(event.person)&&"person",typeof event.alone!=="boolean"&&"alone",Object.hasOwn(event,"caller")&&typeof event.caller!=="boolean"&&"caller",raised&&!RAISED.includes(event.raised)&&"raised",...asked].filter(Boolean);
if(missing.length>0)return{...state,typed:event,refusal:{reason:"unanswered",missing}};
const confirmed=state.facts.holds.filter((id)=>event.conditions[id]);
const caller=typeof event.caller==="boolean"?event.caller:state.caller;
const entry={what:"resume",person:event.person,alone:event.alone,caller,confirmed,...(raised?{raised:event.raised}:{}),at:clock.wall};
const facts=afterBreak(flow,state.facts,event.person,confirmed);
const log=[...state.log,entry];
if(!event.alone)return{...state,facts,log,typed:event,refusal:{reason:"not-alone",missing:["alone"]}};
const kept=state.facts.holds.every((id)=>facts.holds.includes(id));
const wait=state.wait===null||kept?state.wait:{...state.wait,counted:0};
const run={...state,caller,facts,log,wait,typed:{},arrival:{...state.arrival,shown:[]},screen:{name:"back"}};
return run.arrival.counted?guarded(flow,run,clock):arrived(flow,run,run.step,clock);
}
return{begin,advance,RAISED};
})();
modules["script/runs.js"]=(function(){
const RUN="stepward:run:";
const LEASE="stepward:lease:";
const TRY="stepward:try";
const LEASE_MS=4000;
const ROOM=200_000;
function probe(store){
try{
store.set(TRY,"1");
store.remove(TRY);
}catch{
try{
store.keys();
return"full";
}catch{
return"blocked";
}
}
try{
store.set(TRY,"x".repeat(ROOM));
store.remove(TRY);
return"works";
}catch{
remove(store,TRY);
return"full";
}
}
function remove(store,key){
try{
store.remove(key);
}catch{
}
}
function runKey(procedure,id){
return id===""?`${RUN}${procedure}`:`${RUN}${procedure}:${id}`;
}
function leaseKey(procedure,id){
return`${LEASE}${procedure}:${id}`;
}
function keptRuns(store){
const found=[];
try{
for(const key of store.keys().filter((one)=>one.startsWith(RUN))){
const[procedure,id=""]=key.slice(RUN.length).split(":");
const state=readRun(store,procedure,id);
if(state!==null)found.push({id,procedure,state});
}
}catch{
return found;
}
return found.sort((one,other)=>other.state.touched.wall-one.state.touched.wall||(one.id<other.id?-1:1));
}
function readRun(store,procedure,id){
try{
const state=JSON.parse(store.get(runKey(procedure,id))??"null");
const whole=typeof state?.schema==="string"&&Array.isArray(state.frames)&&Array.isArray(state.log)&&typeof state.touched?.wall==="number";
return whole?state:null;
}catch{
return null;
}
}
function underWay(state){
return state.frames.length>0&&!["ending","refused"].includes(state.screen.name);
}
function plain(serial){
return serial.toLowerCase().replace(/[^a-z0-9]/g,"");
}
function otherRunOf(store,serial,procedure,id){
if(["","unknown"].includes(plain(serial)))return null;
return keptRuns(store).find((one)=>underWay(one.state)&&plain(one.state.about?.serial??"")===plain(serial)&&!(one.procedure===procedure&&one.id===id))??null;
}
function otherModelOf(store,serial,model){
const number=plain(serial);
if(["","unknown"].includes(number)||model===null||model==="unknown")return null;
return keptRuns(store).find(({state})=>plain(state.about?.serial??"")===number&&state.model!==null&&state.model!==model)?.state.model??null;
}
function heldElsewhere(store,procedure,id,tab,wall){
try{
const[holder,since]=(store.get(leaseKey(procedure,id))??" 0").split(" ");
const age=wall-Number(since);
return holder!==""&&holder!==tab&&age<LEASE_MS&&age>-LEASE_MS;
}catch{
return false;
}
}
function hold(store,procedure,id,tab,wall,take=false){
try{
if(!take&&heldElsewhere(store,procedure,id,tab,wall))return false;
store.set(leaseKey(procedure,id),`${tab} ${wall}`);
return(store.get(leaseKey(procedure,id))??"").startsWith(`${tab} `);
}catch{
return true;
}
}
function letGo(store,procedure,id,tab){
try{
if((store.get(leaseKey(procedure,id))??"").startsWith(`${tab} `))store.remove(leaseKey(procedure,id));
}catch{
}
}
function keep(store,run,tab,wall){
if(!hold(store,run.procedure,run.id,tab,wall))return"elsewhere";
try{
store.set(runKey(run.procedure,run.id),JSON.stringify(run.state));
return"kept";
}catch{
return"failed";
}
}
function forget(store,procedure,id){
remove(store,runKey(procedure,id));
remove(store,leaseKey(procedure,id));
}
return{LEASE_MS,probe,keptRuns,readRun,underWay,otherRunOf,otherModelOf,heldElsewhere,hold,letGo,keep,forget};
})();
modules["parts/follower/record.js"]=(function(){
const{howChecked}=modules["script/run-state.js"];
const{say,sayOf,duration}=modules["parts/follower/words.js"];
function conditionName(flow,id){
return flow.conditions.find((one)=>one.id===id)?.name??id;
}
function hazardName(flow,id){
return flow.hazards.find((one)=>one.id===id)?.name??id;
}
function modelName(flow,id){
return id===null||id==="unknown"?say("model-unknown"):flow.models.find((one)=>one.id===id)?.name??id;
}
function missingWords(flow,missing){
if(missing.kind==="condition")return say("missing-condition",{name:conditionName(flow,missing.id)});
if(missing.kind==="person")return say("missing-person",{person:sayOf("need",missing.id)});
return sayOf("missing",missing.kind);
}
function outcomeWords(outcome){
const words=sayOf("end",outcome);
return words===outcome?say("end-task",{outcome:outcome.replaceAll("-"," ")}):words;
}
function pathWords(flow,entry){
const step=flow.procedures[entry.procedure].steps[entry.step];
if(entry.what==="carry-out")return{asked:say("path-carry-out"),said:step.text};
if(entry.what==="ending")return{asked:step.text,said:outcomeWords(entry.outcome)};
const way=step.ways[entry.way];
const unit=step.measure?.unit??"";
const said=entry.value!==undefined?`${entry.value} ${unit}`.trim()
:way.kind==="unsure"?say(step.kind==="measure"?"unsure-measure":"unsure")
:way.kind==="otherwise"?say("path-otherwise")
:way.kind==="model"?modelName(flow,way.text)
:way.kind==="outcome"?outcomeWords(way.text)
:way.text??"";
return{asked:step.kind==="by-model"?say("known-model"):step.text,said};
}
function timeOf(wall){
return new Date(wall).toISOString().slice(0,16).replace("T"," ")+" UTC";
}
function recordText(flow,state){
const procedure=flow.procedures[flow.procedure];
const lines=[say("record-title",{title:procedure.title,revision:procedure.revision??"-"}),flow.library];
let first=true;
for(const entry of state.log){
if(first)lines.push(timeOf(entry.at));
first=false;
lines.push(...recordLines(flow,state,entry));
}
return lines.join("\n")+"\n";
}
function rawRecord(state){
return[`${state.edition}`,...state.log.map(({at,...entry})=>`${timeOf(at)} ${JSON.stringify(entry)}`)].join("\n")+"\n";
}
function recordLines(flow,state,entry){
const textOf=(id)=>stepText(flow,entry.procedure,id);
switch(entry.what){
case"note":return[say("record-note",{text:entry.text})];
case"machine":return[say("record-machine",{serial:entry.serial})];
case"start":return[...["ticket","counter"].filter((name)=>state.about?.[name]).map((name)=>say(`record-${name}`,state.about)),...(entry.serial?[say("record-machine",entry)]:[]),...(flow.models.length>0?[say("record-model",{model:modelName(flow,entry.model)})]:[]),say("record-person",{person:sayOf("person",entry.person)})];
case"caution":return[say(entry.caller?"record-caution-caller":"record-caution",{name:hazardName(flow,entry.hazard)})];
case"back":return[say("record-back",{step:textOf(entry.to)})];
case"wait-over":return[say("record-wait",{time:duration(entry.seconds),step:textOf(entry.step)})];
case"resume":return[say("record-resume",{person:sayOf("person",entry.person),names:entry.confirmed.map((id)=>conditionName(flow,id)).join(", ")||say("known-none")}),...(entry.raised?[say(`raised-${entry.raised}`)]:[])];
case"hand-over":return[say("record-hand-over",{missing:entry.missing.map((one)=>missingWords(flow,one)).join("; ")}),...unsorted(flow,entry)];
case"ending":return entry.depth===0?[say("record-ending",{outcome:outcomeWords(entry.outcome),step:textOf(entry.step)}),...(state.screen.name==="ending"&&howChecked(flow,state)==="told"?[say("checked-told")]:[])]:[];
case"way":case"carry-out":{
const{asked,said}=pathWords(flow,entry);
const between=/[?.!:]$/.test(asked)?" ":": ";
return[`${"  ".repeat(entry.depth)}${asked}${said===""?"":between+said}${entry.told?` (${say("told")})`:""}`];
}
default:return[];
}
}
function unsorted(flow,{typed,step}){
return typed===undefined?[]:[say("record-reading",{value:Object.values(typed).join(" / "),step:stepText(flow,undefined,step)})];
}
function stepText(flow,procedure,id){
const own=procedure?[flow.procedures[procedure]]:Object.values(flow.procedures);
return own.find((one)=>Object.hasOwn(one.steps,id))?.steps[id].text??id;
}
return{conditionName,hazardName,modelName,missingWords,outcomeWords,pathWords,recordText,rawRecord,unsorted};
})();
modules["parts/follower/choices.js"]=(function(){
const{PERSONS}=modules["script/facts.js"];
const{make}=modules["parts/follower/make.js"];
const{modelName}=modules["parts/follower/record.js"];
const{say,sayOf}=modules["parts/follower/words.js"];
function way(label,press,kind=""){
return make("button",{type:"button",class:`follower__way ${kind}`.trim(),"data-choice":true,click:press},make("span",{class:"follower__label"},label));
}
function mainWay(label,press){
return way(label,press,"follower__way--main");
}
function submit(label){
return make("button",{type:"submit",class:"follower__way follower__way--main"},make("span",{class:"follower__label"},label));
}
function form(send){
return(element)=>send(new FormData(element));
}
function choice(state,name,legend,choices,hint=null){
const condition=name.startsWith("still-")?name.slice("still-".length):null;
const given=condition===null?state.typed[name]:state.typed.conditions?.[condition];
const chosen=given===true?"yes":given===false?"no":given;
const open=state.refusal?.missing?.includes(condition??name);
const options=choices.map(([value,label])=>make("label",{class:"follower__option"},make("input",{type:"radio",name,value,checked:value===chosen}),make("span",{},label)));
const kind=open?"follower__choice follower__choice--open":"follower__choice";
return make("fieldset",{class:kind},make("legend",{},legend),hint===null?null:make("p",{class:"follower__hint"},hint),open?make("p",{class:"follower__open"},say("still-open")):null,...options);
}
function said(answers,name){
const value=answers.get(name);
return value===null?undefined:value==="yes"?true:value==="no"?false:String(value);
}
function person(state){
return choice(state,"person",say("ask-person"),PERSONS.map((id)=>[id,sayOf("person",id)]));
}
function alone(state){
return choice(state,"alone",say("ask-alone"),[["yes",say("alone-yes")],["no",say("alone-no")]]);
}
function modelChoices(flow){
const{models}=flow.procedures[flow.procedure];
const other=(models.length<flow.models.length?[["other",say("model-other")]]:[]);
return[...models.map((id)=>[id,modelName(flow,id)]),["unknown",say("model-unknown")],...other];
}
function refusals(state){
if(state.refusal?.reason==="not-alone")return[problem(say("not-alone"))];
return state.refusal?.reason==="unanswered"?[problem(say("unanswered"))]:[];
}
function notice(text){
return make("p",{class:"follower__notice"},text);
}
function problem(text){
return make("p",{class:"follower__problem",role:"alert"},text);
}
return{way,mainWay,submit,form,choice,said,person,alone,modelChoices,refusals,notice,problem};
})();
modules["parts/follower/copy.js"]=(function(){
const{make}=modules["parts/follower/make.js"];
const{say}=modules["parts/follower/words.js"];
function copyText(id,label,text,press,rows=8){
const area=(make("textarea",{class:"follower__record",rows,readonly:true,id}));
area.value=text;
const button=make("button",{type:"button",class:"follower__meant",click:()=>copyFrom(area,button)},press);
return make("div",{class:"follower__copy"},make("label",{for:id,class:"follower__recordname"},label),area,button);
}
function copyFrom(area,button){
area.select();
navigator.clipboard?.writeText(area.value).then(()=>{button.textContent=say("copied");},()=>{});
}
return{copyText};
})();
modules["parts/follower/start-screen.js"]=(function(){
const{heldElsewhere,underWay}=modules["script/runs.js"];
const{alone,choice,form,modelChoices,notice,person,problem,refusals,said,submit}=modules["parts/follower/choices.js"];
const{make}=modules["parts/follower/make.js"];
const{modelName,outcomeWords}=modules["parts/follower/record.js"];
const{say,timeAt}=modules["parts/follower/words.js"];
const ABOUT=["ticket","serial","counter"];
function start(view){
const{flow,state,send,notices,shelf}=view;
const about=ABOUT.map((name)=>make("label",{class:"follower__field"},make("span",{},say(`ask-${name}`)),
make("input",{name,class:"follower__text",maxlength:200,autocomplete:"off",inputmode:name==="counter"?"numeric":null,value:state.typed[name]??""})));
const runs=runsHere(view);
const first=shelf.runs.some((kept)=>kept.procedure===shelf.procedure&&underWay(kept.state));
const body=[
...notices.map(notice),...sameMachine(view),...otherModel(view),...(first?runs:[]),...refusals(state),
flow.models.length>0?choice(state,"model",say("ask-model"),modelChoices(flow)):null,
person(state),alone(state),
choice(state,"caller",say("ask-caller"),[["no",say("caller-no")],["yes",say("caller-yes")]]),
make("fieldset",{class:"follower__choice follower__about"},make("legend",{},say("about-machine")),make("p",{class:"follower__hint"},say("about-help")),...about),
make("p",{class:"follower__small","data-room":shelf.room},say(`store-${shelf.room}`)),
...(first?[]:runs),
].filter((one)=>one!==null);
const sent=form((answers)=>send({
type:"start",model:said(answers,"model"),person:said(answers,"person"),alone:said(answers,"alone"),caller:said(answers,"caller"),
...Object.fromEntries(ABOUT.map((name)=>[name,String(answers.get(name)??"")])),
}));
return{kind:say("kind-start"),title:say("follow"),body,ways:[submit(say("begin"))],form:sent};
}
function sameMachine({shelf}){
if(shelf.same===null)return[];
const{state}=shelf.same;
const said=problem(say("same-machine",{serial:state.about.serial,label:labelOf(state)}));
said.append(make("br"),opener(shelf,shelf.same,say("same-machine-open")));
return[said];
}
function otherModel({flow,state,shelf}){
return shelf.doubt===null?[]:[problem(say("other-model",{serial:state.typed.serial,model:modelName(flow,shelf.doubt.was)}))];
}
function labelOf(state){
return state.about?.ticket||state.about?.serial||say("run-untitled",{day:new Date(state.log[0]?.at??state.touched.wall).toISOString().slice(0,10)});
}
function opener(shelf,kept,words){
if(kept.procedure!==shelf.procedure)return make("a",{class:"follower__link",href:`${kept.procedure}.html#open=${kept.id}`},words);
return make("button",{type:"button",class:"follower__minor","data-open":kept.id,click:()=>shelf.open(kept.id)},words);
}
function runsHere(view){
const{shelf}=view;
const own=shelf.runs.filter((kept)=>kept.procedure===shelf.procedure);
const others=shelf.runs.filter((kept)=>kept.procedure!==shelf.procedure);
const list=(runs,title)=>
runs.length===0?[]:[make("h3",{class:"follower__part"},title),make("ul",{class:"follower__runs"},...runs.map((kept)=>row(view,kept)))];
return[...list(own,say("runs-here")),...list(others,say("runs-other"))];
}
function row({flow,shelf},kept){
const{state}=kept;
const ended=state.log.findLast((entry)=>entry.what==="ending"&&entry.depth===0);
const stands=kept.procedure===shelf.procedure&&state.edition!==flow.edition?say("run-edition")
:heldElsewhere(shelf.store,kept.procedure,kept.id,shelf.tab,shelf.wall)?say("run-elsewhere")
:!underWay(state)?`${say("run-over")}${ended?`: ${outcomeWords(ended.outcome)}`:""}`
:state.screen.name==="hand-over"?say("run-stopped")
:shelf.waitsHere(kept)?waits(state)
:say("run-answers",{count:state.path.length});
const title=kept.procedure===shelf.procedure?null:make("span",{},state.title??kept.procedure);
let sure=false;
const forget=make("button",{type:"button",class:"follower__minor","data-forget":kept.id,click:()=>{
if(sure)return shelf.forget(kept);
sure=true;
forget.textContent=say("run-forget-sure");
}},say("run-forget"));
return make("li",{class:"follower__run"},make("span",{class:"follower__runname"},make("strong",{},labelOf(state)),title,make("span",{class:"follower__small"},`${stands}, ${ago(shelf.wall-state.touched.wall)}`)),
opener(shelf,kept,say("run-open")),forget);
}
function waits({wait,last}){
const left=wait.needed-wait.counted-(performance.now()-last.running);
return left<=0?say("run-waited"):say("run-waits",{time:timeAt(Date.now()+left)});
}
function ago(ms){
const minutes=Math.max(0,Math.floor(ms/60_000));
if(minutes<120)return say("ago-minutes",{count:minutes});
return minutes<48*60?say("ago-hours",{count:Math.floor(minutes/60)}):say("ago-days",{count:Math.floor(minutes/1440)});
}
return{start,labelOf,ago};
})();
modules["parts/follower/asides.js"]=(function(){
const{form,mainWay,notice,submit,way}=modules["parts/follower/choices.js"];
const{copyText}=modules["parts/follower/copy.js"];
const{make}=modules["parts/follower/make.js"];
const{conditionName,rawRecord,recordText}=modules["parts/follower/record.js"];
const{ago,labelOf}=modules["parts/follower/start-screen.js"];
const{say}=modules["parts/follower/words.js"];
function drawAside(view,aside){
return(ASIDES)[aside.name](view,aside);
}
const ASIDES={note,packet,elsewhere,closed,refusedLink};
function note({send,close}){
const area=make("textarea",{id:"follower-note",name:"note",class:"follower__record",rows:3,maxlength:200,"aria-describedby":"follower-note-help"});
const body=[make("label",{for:"follower-note",class:"follower__recordname"},say("note-label")),area,make("p",{class:"follower__small",id:"follower-note-help"},say("note-help"))];
const sent=form((answers)=>{close();send({type:"note",text:String(answers.get("note")??"")});});
return{kind:say("note-saved"),title:say("note-title"),body,ways:[submit(say("note-save")),way(say("close"),close)],form:sent};
}
function packet({flow,state,close},{failed}){
const into=make("div",{class:"follower__packet","data-packet":true},make("p",{},say(failed?"packet-failed":"packet-loading")));
if(failed)into.append(copyText("follower-record",say("record"),recordText(flow,state),say("copy")));
return{kind:say("kind-packet"),title:say("packet-title"),body:[into],ways:[way(say("close"),close)]};
}
function elsewhere({flow,state,shelf},{free,take,typed,other}){
const where=say(free?"elsewhere-free":"elsewhere-held",{label:labelOf(state),ago:ago(shelf.wall-state.touched.wall)});
const body=[notice(say(typed?"same-machine":"elsewhere-why",{serial:state.about.serial,label:labelOf(state)})),make("p",{"data-where":free?"free":"held"},where),copyText("follower-record",say("record"),recordText(flow,state),say("copy"))];
const leave=typed?way(say("same-machine-not"),other):way(say("closed-new"),()=>shelf.open(null));
return{kind:say("kind-elsewhere"),title:say(typed?"same-machine-title":"elsewhere-title"),body,ways:[mainWay(say("elsewhere-take"),take),leave]};
}
function closed({flow,shelf},{why,saved}){
const text=why==="edition"?rawRecord(saved):recordText(flow,saved);
const holds=why==="edition"?[]:saved.facts.holds.map((id)=>make("li",{},conditionName(flow,id)));
const left=holds.length>0?make("div",{class:"follower__left"},make("h3",{},say("machine-left")),make("ul",{},...holds)):null;
const body=[make("p",{},say(`closed-${why}-why`)),left,copyText("follower-record",say("record"),text,say("copy"),12)].filter((one)=>one!==null);
return{kind:say("kind-closed"),title:say(`closed-${why}`),body,ways:[way(say("closed-new"),()=>shelf.open(null))]};
}
function refusedLink({shelf},{reason,id,revision,text,same}){
const there=reason==="procedure"&&/^[a-z0-9-]+$/.test(id)?make("p",{},make("a",{class:"follower__link",href:`${id}.html#run=${text}`},say("packet-open-there",{id}))):null;
const own=same&&same.procedure===shelf.procedure?[mainWay(say("same-machine-open"),()=>shelf.open(same.id))]:[];
const other=same&&same.procedure!==shelf.procedure?make("p",{},make("a",{class:"follower__link",href:`${same.procedure}.html#open=${same.id}`},say("same-machine-open"))):null;
const body=[make("p",{class:"follower__do"},say(`packet-refused-${reason}`,{revision})),there,other].filter((one)=>one!==null);
return{kind:say("kind-hand-over"),title:say("packet-refused"),body,ways:[...own,way(say("closed-new"),()=>shelf.open(null))]};
}
return{drawAside};
})();
modules["parts/follower/screens.js"]=(function(){
const{RAISED}=modules["script/flow-state.js"];
const{fieldsOf,MOST_GAPS,MOST_READINGS,readingName,repeatable,takenReadings}=modules["script/reading.js"];
const{howChecked,neverStarts,possibleModels,procedureOf,stepOf,waitMs}=modules["script/run-state.js"];
const{alone,choice,form,mainWay,notice,person,problem,refusals,said,submit,way}=modules["parts/follower/choices.js"];
const{copyText}=modules["parts/follower/copy.js"];
const{alertSymbol,make}=modules["parts/follower/make.js"];
const{conditionName,hazardName,missingWords,modelName,outcomeWords,recordText}=modules["parts/follower/record.js"];
const{start}=modules["parts/follower/start-screen.js"];
const{duration,say,sayOf,timeAt}=modules["parts/follower/words.js"];
function drawScreen(view){
const draw=(SCREENS)[view.state.screen.name];
return draw(view);
}
const SCREENS={start,caution,step,wait,resume,ending,"hand-over":handOver,refused};
function caution({flow,state,send,sign}){
const hazard=flow.hazards.find((one)=>one.id===state.screen.hazard);
const rows=["nature","consequence","avoid"].filter((key)=>hazard[key]!==null);
const texts=rows.map((key)=>make("div",{class:`caution__${key}`},make("dt",{},say(key)),make("dd",{},hazard[key])));
const word=make("span",{class:"caution__word"},hazard.signalWord==="notice"?null:alertSymbol(),say(`${hazard.signalWord}-word`));
const panel=make("div",{class:`caution caution--${hazard.signalWord}`,"data-hazard":hazard.id},
make("div",{class:"caution__panel"},word,hazard.place===null?null:make("span",{class:"caution__where"},hazard.place)),
make("div",{class:"caution__body"},sign(hazard),make("dl",{class:"caution__texts"},...texts)));
const aloud=state.caller?make("div",{class:"follower__aloud"},make("p",{class:"follower__small"},say("read-aloud")),make("p",{},hazard.spoken)):null;
const press=()=>send({type:"acknowledge",hazard:hazard.id});
const body=[panel,aloud].filter((one)=>one!==null);
return{kind:say("kind-caution"),title:hazard.name,body,ways:[mainWay(say(state.caller?"acknowledge-caller":"acknowledge"),press)]};
}
function step(view){
const{flow,state,send,words}=view;
const one=stepOf(flow,state);
const body=[...stays(view),...words(procedureOf(flow,state).id,one)];
if(one.kind==="measure")return measurement(view,one,body);
if(one.kind==="ask"){
const ways=one.ways.map((answer,index)=>[answer,index]).filter(([answer])=>answer.kind==="answer"||answer.kind==="unsure");
const buttons=ways.map(([answer,index])=>way(answer.kind==="unsure"?say("unsure"):answer.text,()=>send({type:"answer",way:index}),answer.kind==="unsure"?"follower__way--unsure":""));
return{kind:say("kind-ask"),title:one.text,body,ways:buttons};
}
const needed=waitMs(flow,state,one);
if(one.waitFor!==null&&state.facts.holds.includes(one.waitFor))body.push(notice(say("wait-reached",{name:conditionName(flow,one.waitFor)})));
const caller=state.frames.length>1&&one.outcome!==null?flow.procedures[state.frames.at(-2).procedure].title:null;
const label=needed>0?say("begin-wait",{time:duration(Math.ceil(needed/1000))}):caller!==null?say("callee-done",{title:caller}):say("next");
return{kind:say("kind-do"),title:one.text,body,ways:[mainWay(label,()=>send({type:needed>0?"begin-wait":"next"}))]};
}
function stays({flow,state}){
if(state.notice?.name!=="stays-done")return[];
const deeds=state.notice.deeds.map((deed)=>make("li",{},flow.procedures[deed.procedure].steps[deed.step].text));
return[make("div",{class:"follower__notice"},make("p",{},say("stays-done")),make("ul",{},...deeds))];
}
function measurement({state,send},one,body){
const fields=fieldsOf(one);
const first=state.arrival.near;
const before=first?[make("p",{class:"follower__small"},say("first-reading",{value:first.value??Object.values(first).join(" / "),unit:one.measure.unit}))]:[];
const drawn=fields.map((field)=>readingField(field,state,send,fields.length===1?one.text:field.ask??field.id));
const more=repeatable(one)?[moreReadings(one,state,send)]:[];
const unsure=one.ways.findIndex((answer)=>answer.kind==="unsure");
const ways=[submit(say(fields.length===1?"enter":"enter-all"))];
if(unsure>=0)ways.push(way(say("unsure-measure"),()=>send({type:"answer",way:unsure}),"follower__way--unsure"));
const sent=form((answers)=>send({type:"reading",typed:Object.fromEntries([...answers].map(([name,value])=>[name,String(value)]))}));
return{kind:say("kind-measure"),title:one.text,body:[...body,...before,...drawn,...more],ways,form:sent};
}
function moreReadings(one,state,send){
const[field]=fieldsOf(one);
const names=Array.from({length:MOST_READINGS-1},(_,place)=>readingName(place+2));
const gaps=readingField({id:"gaps",unit:"",from:"1",to:String(MOST_GAPS)},state,send,say("gaps"));
const others=names.map((name,place)=>readingField({...field,id:name},state,send,say("reading-n",{n:place+2})));
const result=make("p",{class:"follower__mean",role:"status"});
const used=["gaps",...names].some((name)=>(state.typed[name]??"")!==""||state.refusal?.field===name);
const box=make("details",{class:"follower__several",open:used},make("summary",{},say("several")),gaps,...others,result);
const tell=()=>{
const typed=Object.fromEntries([...new FormData((box.closest("form")))].map(([name,value])=>[name,String(value)]));
const taken=takenReadings(one,typed);
const told="reason"in taken||(taken.spread===null&&["","1"].includes(typed.gaps??""));
result.textContent=told?"":say(taken.spread===null?"mean-one":"mean-of",{mean:taken.values.value,spread:taken.spread,unit:one.measure.unit});
};
box.addEventListener("input",tell);
queueMicrotask(()=>box.closest("form")?.addEventListener("input",tell));
return box;
}
function readingField(field,state,send,label){
const refusal=state.refusal?.field===field.id?state.refusal:null;
const id=`follower-reading-${field.id}`;
const input=make("input",{
id,name:field.id,inputmode:"decimal",autocomplete:"off",enterkeyhint:"done",class:"follower__input",value:state.typed[field.id]??"",
"aria-describedby":`${id}-range`,"aria-invalid":refusal?"true":null,"aria-errormessage":refusal?`${id}-why`:null,
});
const meant=(refusal?.meant??[]).map((guess)=>
make("button",{type:"button",class:"follower__meant",click:()=>send({type:"meant",field:field.id,value:guess.value})},say(guess.because==="inch"?"meant-inch":"meant-ten",{value:guess.value,unit:field.unit})));
return make("div",{class:"follower__reading"},
make("label",{for:id},label),
make("span",{class:"follower__blank"},input,make("span",{class:"follower__unit"},field.unit)),
make("span",{class:"follower__small",id:`${id}-range`},say("range-unit",field)),
refusal?make("p",{class:"follower__problem",role:"alert",id:`${id}-why`},refusalWords(refusal,field)):null,
...meant);
}
function refusalWords(refusal,field){
const range=say("range-unit",{from:refusal.from??field.from,to:refusal.to??field.to,unit:refusal.unit??field.unit});
return say(refusal.reason==="no-value"?"refused-value":`refused-${refusal.reason}`,{range,...refusal});
}
function wait(view){
const{flow,state,send,words}=view;
const one=stepOf(flow,state);
const over=state.wait.counted>=state.wait.needed;
const clock=make("p",{class:"follower__clock",role:"timer","data-clock":true},make("span",{class:"follower__time"},clockWords(state.wait))," ",make("span",{class:"follower__small"},say("wait-left")));
const body=[...words(procedureOf(flow,state).id,one),over?notice(say("wait-over")):clock];
if(state.wait.doubt&&!over)body.push(notice(say("wait-doubt")));
if(!over&&state.caller)body.push(make("p",{"data-call-back":true},say("wait-call-back",{time:timeAt(Date.now()+state.wait.needed-state.wait.counted)})));
if(!over)body.push(make("p",{class:"follower__small"},say("wait-keep-open")));
return{kind:say("kind-wait"),title:one.text,body,ways:over?[mainWay(say("go-on"),()=>send({type:"next"}))]:[]};
}
function clockWords(running){
const left=Math.max(0,Math.ceil((running.needed-running.counted)/1000));
const pair=(number)=>String(number).padStart(2,"0");
const hours=Math.floor(left/3600);
return`${hours>0?`${hours}:`:""}${pair(Math.floor(left/60)%60)}:${pair(left%60)}`;
}
function resume({flow,state,send}){
const asked=state.facts.holds.map((id)=>choice(state,`still-${id}`,conditionName(flow,id),[["yes",say("still-yes")],["no",say("still-no")]],say("ask-still")));
const body=[
make("p",{},say("resume-why")),...(state.wait===null?[]:[notice(say("wait-again"))]),...refusals(state),
person(state),...raised(state),alone(state),choice(state,"caller",say("ask-caller"),[["no",say("caller-no")],["yes",say("caller-yes")]]),...asked,
];
const sent=form((answers)=>{
const conditions=Object.fromEntries(state.facts.holds.map((id)=>[id,said(answers,`still-${id}`)]));
send({type:"confirm",person:said(answers,"person"),alone:said(answers,"alone"),caller:said(answers,"caller"),raised:said(answers,"raised"),conditions});
});
return{kind:say("kind-resume"),title:say("resume-title"),body,ways:[submit(say("go-on"))],form:sent};
}
function raised(state){
const asked=state.typed.raised!==undefined||state.refusal?.missing?.includes("raised");
return asked?[choice(state,"raised",say("ask-raised"),RAISED.map((id)=>[id,say(`raised-${id}`)]))]:[];
}
function ending(view){
const{flow,state,words}=view;
const one=stepOf(flow,state);
const left=state.screen.left.map((id)=>problem(say("left-behind",{name:conditionName(flow,id)})));
const unchecked=state.screen.missing.length>0?[problem(say("not-checked"))]:howChecked(flow,state)==="told"?[notice(say("checked-told"))]:[];
const holds=state.facts.holds.map((id)=>make("li",{},conditionName(flow,id)));
const perhaps=state.facts.mayHold.filter((id)=>!state.facts.holds.includes(id)).map((id)=>conditionName(flow,id));
const machine=make("div",{class:"follower__left"},make("h3",{},say("machine-left")),holds.length>0?make("ul",{},...holds):make("p",{},say("nothing-known")),
perhaps.length>0?make("p",{},say("summary-perhaps",{names:perhaps.join("; ")})):null);
const body=[make("p",{class:"follower__outcome"},outcomeWords(one.outcome)),...unchecked,...left,...words(procedureOf(flow,state).id,one),...referral(one),machine,record(view)];
return{kind:say("kind-ending"),title:one.text,body,ways:atRest(view)};
}
function referral(one){
if(one.referTo===null)return[];
if(one.referTo.title===null)return[make("p",{},say("by-code"))];
return[make("p",{},make("a",{class:"follower__link",href:`${one.referTo.id}.html`},say("go-to-procedure",one.referTo)))];
}
function record({flow,state}){
return copyText("follower-record",say("record"),recordText(flow,state),say("copy"),10);
}
function atRest({handOver,shelf}){
return[mainWay(say("hand-over-all"),handOver),way(say("closed-new"),()=>shelf.open(null))];
}
function handOver(view){
const{flow,state}=view;
const missing=make("ul",{class:"follower__missing"},...state.screen.missing.map((one)=>make("li",{},missingWords(flow,one))));
const body=[make("p",{},say("hand-over-why")),missing,make("p",{class:"follower__do"},say("hand-over-do")),record(view)];
return{kind:say("kind-hand-over"),title:say("hand-over-title"),body,ways:atRest(view)};
}
function refused({flow,state,send}){
const missing=state.screen.missing.map((one)=>make("p",{class:"follower__do"},missingWords(flow,one)));
const again=neverStarts(flow.procedures[flow.procedure])===null;
return{kind:say("kind-hand-over"),title:say("refused-title"),body:missing,ways:again?[way(say("start-again"),()=>send({type:"restart"}))]:[]};
}
function knownNow({flow,state}){
const list=(names)=>(names.length>0?names.join("; "):say("known-none"));
const rows=[
[say("known-model"),possibleModels(flow,state)[0]===null?say("known-none"):modelName(flow,state.model)],
[say("known-person"),sayOf("person",state.facts.person)],
[say("known-holds"),list(state.facts.holds.map((id)=>conditionName(flow,id)))],
[say("known-cautions"),list(Object.keys(state.facts.ages).map((id)=>hazardName(flow,id)))],
];
return make("dl",{class:"follower__facts"},...rows.map(([name,value])=>make("div",{},make("dt",{},name),make("dd",{},value))));
}
return{drawScreen,clockWords,knownNow};
})();
modules["parts/follower/card.js"]=(function(){
const{stepOf}=modules["script/run-state.js"];
const{make}=modules["parts/follower/make.js"];
const{pathWords}=modules["parts/follower/record.js"];
const{knownNow}=modules["parts/follower/screens.js"];
const{say}=modules["parts/follower/words.js"];
function drawCard(view,drawing,{name,banner,note}){
const title=make("h2",{class:"follower__title",id:"follower-title",tabindex:"-1"},drawing.title);
const ways=make("div",{class:"follower__ways",role:"group","aria-labelledby":"follower-title"},...drawing.ways);
const choices=ways.querySelectorAll("[data-choice]");
choices.forEach((button,place)=>choices.length>1&&place<9&&button.prepend(make("kbd",{class:"follower__key","aria-hidden":"true"},String(place+1))));
const body=make("div",{class:"follower__body"},make("p",{class:"follower__kind"},drawing.kind),title,...banner,...drawing.body);
const low=["step","wait"].includes(name)&&choices.length<=4&&!drawing.form;
const card=make(drawing.form?"form":"div",{class:low?"follower__card follower__card--low":"follower__card","data-screen":name,novalidate:true},
head(view),body,ways,note===null?null:foot(view,{note}));
if(drawing.form)card.addEventListener("submit",(event)=>{event.preventDefault();drawing.form?.((card));});
return card;
}
function head({flow,state}){
const ids=state.frames.length>0?state.frames.map((frame)=>frame.procedure):[flow.procedure];
const crumbs=ids.map((id,place)=>make("li",{"aria-current":place===ids.length-1?"step":null},flow.procedures[id].title));
return make("div",{class:"follower__head"},make("ol",{class:"follower__crumbs"},...crumbs),make("a",{class:"follower__stop",href:"../stop.html",title:say("stop-card-for")},say("stop-card")));
}
function minor(key,click,words=say(key)){
return make("button",{type:"button",class:"follower__minor","data-minor":key,click},words);
}
function foot({state,send,handOver},{note}){
if(state.frames.length===0)return make("div",{class:"follower__foot"});
const atRest=["ending","hand-over"].includes(state.screen.name);
return make("div",{class:"follower__foot"},
state.history.length>0&&state.screen.name!=="resume"?minor("back",()=>send({type:"back"})):null,
minor("note",note),atRest?null:minor("hand-over",handOver));
}
function sheets(view,{again,hand,open,only}){
const{state,send,shelf}=view;
const swap=minor("hand",hand,say(shelf.hand==="left"?"hand-right":"hand-left"));
const sheet=(name,title,...content)=>{
const kind=`follower__sheet follower__sheet--${name}`;
return make("details",{class:kind,open:(name!=="more"&&open.includes(kind))||(name==="path"&&(only||state.screen.name==="ending"))},make("summary",{},title),...content);
};
const known=sheet("known",say("known-now"),knownNow(view));
const taken=sheet("path",`${say("path-so-far")} (${state.path.length})`,path(view,only));
if(only)return[taken,known];
if(state.frames.length===0)return[sheet("more",say("more"),make("div",{class:"follower__more"},swap)),quoted(view)];
const restart=minor("start-again",()=>again(restart));
const over=["resume","ending"].includes(state.screen.name)?null:minor("take-over",()=>send({type:"take-over"}));
return[
taken,known,
sheet("more",say("more"),make("div",{class:"follower__more"},over,minor("other-runs",()=>shelf.open(null)),restart,swap)),
quoted(view),
];
}
function path({flow,state,send},only){
if(state.path.length===0)return make("p",{},say("path-empty"));
const entries=state.path.map((entry,place)=>{
const{asked,said}=pathWords(flow,entry);
const back=state.history.findIndex((one)=>one.path===place);
const words=[make("span",{class:"follower__asked"},asked)," ",make("strong",{},said),entry.told?make("span",{class:"follower__small"},` (${say("told")})`):null];
const kind=entry.depth>0?"follower__inner":null;
if(only||back<0||state.screen.name==="resume")return make("li",{class:kind},...words);
const go=()=>send({type:"back",times:state.history.length-back});
return make("li",{class:kind},make("button",{type:"button",class:"follower__answer",title:say("change-answer"),click:go},...words));
});
return make("ol",{class:"follower__path"},...entries);
}
function quoted({flow,state}){
const{id,revision}=flow.procedures[flow.procedure];
const seen=["step","wait","ending"].includes(state.screen.name)&&state.frames.length===1;
const step=seen?stepOf(flow,state)?.id:null;
const words=say("quote",{id:step?`${id}#step-${step}`:id,revision:revision??"-"});
return make("p",{class:"follower__small follower__quote","data-quote":true},words);
}
return{drawCard,sheets};
})();
modules["parts/follower/device.js"]=(function(){
const{make}=modules["parts/follower/make.js"];
function deviceStore(){
return{
get:(key)=>localStorage.getItem(key),
set:(key,text)=>localStorage.setItem(key,text),
remove:(key)=>localStorage.removeItem(key),
keys:()=>Object.keys(localStorage),
};
}
function now(){
return{wall:Date.now(),running:performance.now()};
}
function newId(){
return Array.from(crypto.getRandomValues(new Uint8Array(6)),(byte)=>byte.toString(36).padStart(2,"0")).join("");
}
function tabKeeps(key,text){
try{
if(text===null)sessionStorage.removeItem(key);
else sessionStorage.setItem(key,text);
}catch{
}
}
function tabKept(key){
try{
return sessionStorage.getItem(key);
}catch{
return null;
}
}
class Awake{
lock=null;
async keep(wanted){
try{
if(wanted&&(this.lock===null||this.lock.released))this.lock=await navigator.wakeLock?.request("screen")??null;
if(!wanted&&this.lock!==null)await this.lock.release();
}catch{
this.lock=null;
}
}
}
let loading=null;
function handOverScript(){
loading??=new Promise((done,failed)=>{
const{handOver,scriptType}=document.body.dataset;
document.addEventListener("stepward:hand-over-ready",()=>done(),{once:true});
document.head.append(make("script",{src:handOver,type:scriptType,error:()=>{loading=null;failed(new Error("not loaded"));}}));
});
return loading;
}
return{deviceStore,now,newId,tabKeeps,tabKept,Awake,handOverScript};
})();
modules["parts/follower/keys.js"]=(function(){
function listenToKeys(section,close){
section.addEventListener("keydown",(event)=>{
const target=(event.target);
if(event.key==="Escape"&&(close()||foldOpen(section)))return event.preventDefault();
const typing=target.matches("textarea, input:not([type=radio])");
if(typing||event.ctrlKey||event.altKey||event.metaKey||event.repeat)return;
const chosen=chosenBy(section,event.key,target);
if(chosen instanceof HTMLElement){
event.preventDefault();
chosen.click();
}
});
}
function chosenBy(section,key,target){
const find=(selector)=>section.querySelectorAll(selector);
if(/^[1-9]$/.test(key))return find("[data-choice]")[Number(key)-1];
if(key==="Backspace")return find("[data-minor=back]")[0];
const main=find(".follower__way--main");
return key==="Enter"&&target.matches(".follower__title")&&main.length===1?main[0]:null;
}
function foldOpen(section){
const open=section.querySelector("details[open]");
if(!open)return false;
open.removeAttribute("open");
(open.querySelector("summary"))?.focus();
return true;
}
return{listenToKeys};
})();
modules["parts/follower/page.js"]=(function(){
const{make}=modules["parts/follower/make.js"];
const{say}=modules["parts/follower/words.js"];
function wordsOf(flow,procedure,step){
const texts=step.words.map((text)=>make("p",{},text));
const source=procedure===flow.procedure?document.querySelector(`#step-${CSS.escape(step.id)} .step__words`):null;
if(source===null)return texts.length>0?[make("div",{class:"follower__words"},...texts)]:[];
const copy=(source.cloneNode(true));
for(const element of[copy,...copy.querySelectorAll("[id]")])element.removeAttribute("id");
copy.classList.add("follower__words");
for(const heading of copy.querySelectorAll("h4, h5, h6"))heading.setAttribute("aria-level",String(Number(heading.tagName[1])-1));
return[copy];
}
function signOf(hazard){
const drawn=document.querySelector(`[data-hazard="${CSS.escape(hazard.id)}"] .sign`);
return drawn===null?null:drawn.cloneNode(true);
}
function markChart(flow,state){
Object.assign(document,{stepwardRun:{flow,state}});
document.dispatchEvent(new Event("stepward:run"));
}
class WholeText{
constructor(flow){
const ids=Object.keys(flow.procedures[flow.procedure].steps);
this.sections=ids.map((id)=>document.getElementById(`step-${id}`)).filter((section)=>section!==null);
this.away=false;
this.button=make("button",{type:"button",class:"follower__minor",click:()=>this.putAway(!this.away)});
this.note=make("div",{class:"follower__away"},make("p",{},say("whole-text-away")),this.button);
this.sections[0]?.before(this.note);
}
putAway(away){
this.away=away;
for(const section of this.sections)section.classList.toggle("is-put-away",away);
this.button.textContent=say(away?"whole-text-show":"whole-text-hide");
this.button.setAttribute("aria-expanded",String(!away));
}
offer(allowed){
if(!allowed)this.putAway(true);
this.button.hidden=!allowed;
}
}
return{wordsOf,signOf,markChart,WholeText};
})();
modules["parts/follower/shelf.js"]=(function(){
const{forget,heldElsewhere,hold,keep,keptRuns,letGo,probe,readRun}=modules["script/runs.js"];
const{deviceStore,newId}=modules["parts/follower/device.js"];
class Shelf{
constructor(procedure){
this.procedure=procedure;
this.store=deviceStore();
this.tab=newId();
this.room=probe(this.store);
}
runs(){
return keptRuns(this.store);
}
read(id){
return readRun(this.store,this.procedure,id);
}
isFree(id){
return!heldElsewhere(this.store,this.procedure,id,this.tab,Date.now());
}
hold(id,over=false){
return hold(this.store,this.procedure,id,this.tab,Date.now(),over);
}
letGo(id){
letGo(this.store,this.procedure,id,this.tab);
}
keep(id,state){
const kept=keep(this.store,{id,procedure:this.procedure,state},this.tab,Date.now());
if(this.room==="works"&&kept==="failed")this.room="failed";
return kept;
}
forget(id,procedure=this.procedure){
forget(this.store,procedure,id);
}
}
return{Shelf};
})();
modules["parts/follower/follower.js"]=(function(){
const{advance,begin}=modules["script/flow-state.js"];
const{otherModelOf,otherRunOf,underWay}=modules["script/runs.js"];
const{drawAside}=modules["parts/follower/asides.js"];
const{drawCard,sheets}=modules["parts/follower/card.js"];
const{Awake,handOverScript,newId,now,tabKeeps,tabKept}=modules["parts/follower/device.js"];
const{listenToKeys}=modules["parts/follower/keys.js"];
const{make}=modules["parts/follower/make.js"];
const{modelName}=modules["parts/follower/record.js"];
const{markChart,signOf,WholeText,wordsOf}=modules["parts/follower/page.js"];
const{clockWords,drawScreen}=modules["parts/follower/screens.js"];
const{Shelf}=modules["parts/follower/shelf.js"];
const{say}=modules["parts/follower/words.js"];
const TICK_MS=1000;
const HAND="stepward:hand";
function startFollower(section){
const data=document.getElementById("flow-data");
if(!data)throw new Error("the page holds no flow data");
new Follower(section,JSON.parse(data.textContent??"")).open();
}
class Follower{
constructor(section,flow){
this.section=section;
this.flow=flow;
this.shelf=new Shelf(flow.procedure);
this.openKey=`stepward:open:${flow.procedure}`;
this.wholeText=new WholeText(flow);
this.awake=new Awake();
this.id=null;
this.state=begin(flow,now());
this.aside=null;
this.same=null;
this.doubt=null;
this.waiting=new Map();
this.armed=false;
this.byLink=false;
try{
this.hand=localStorage.getItem(HAND)==="left"?"left":"right";
}catch{
this.hand="right";
}
}
open(){
this.byLink=/^#step-/.test(location.hash);
const asked=this.fromAddress();
if(!asked)this.reopenLast();
this.draw();
this.section.hidden=false;
this.wholeText.putAway(true);
listenToKeys(this.section,()=>this.closeAside());
addEventListener("hashchange",()=>this.linked());
addEventListener("storage",()=>(this.aside?.name==="elsewhere"?this.lookAgain():this.tick()));
for(const leaving of["beforeunload","pagehide"])addEventListener(leaving,()=>this.id!==null&&this.shelf.letGo(this.id));
addEventListener("pageshow",(event)=>event.persisted&&this.id!==null&&this.openRun(this.id));
setInterval(()=>this.tick(),TICK_MS);
document.addEventListener("visibilitychange",()=>document.visibilityState==="visible"&&this.tick());
if(this.byLink||asked)this.section.scrollIntoView();
}
fromAddress(){
const[,what,text]=/^#(run|open)=([\w-]*)$/.exec(location.hash)??[];
if(what===undefined)return false;
history.replaceState(null,"",location.pathname+location.search);
if(what==="open")this.openRun(text);
else this.openPacket(text);
return true;
}
reopenLast(){
const{procedure,edition}=this.flow;
const last=tabKept(this.openKey);
const runs=this.shelf.runs().filter((one)=>one.procedure===procedure&&(underWay(one.state)||one.state.edition!==edition));
const only=runs.length===1&&this.shelf.isFree(runs[0].id)?runs[0].id:null;
const id=last!==null&&this.shelf.read(last)!==null?last:only;
if(id!==null)this.openRun(id);
}
openRun(id,how=null,typed=null){
if(this.id!==null&&this.id!==id)this.leave(this.id);
const saved=id===null?null:this.shelf.read(id);
Object.assign(this,{id:saved===null?null:id,aside:null,same:null,doubt:null,armed:false,state:begin(this.flow,now())});
tabKeeps(this.openKey,this.id);
if(saved!==null&&id!==null)this.show(saved,id,how,typed);
else if(typed!==null)this.state.typed=typed;
if(!this.section.hidden){
this.redraw();
this.arrive();
}
}
leave(id){
if(this.aside===null&&this.state.wait!==null){
this.state=advance(this.flow,this.state,{type:"tick"},now());
this.save();
this.waiting.set(id,this.state.last.running);
}
this.shelf.letGo(id);
}
waitsHere(id,saved){
return saved.wait!==null&&this.waiting.get(id)===saved.last.running;
}
show(saved,id,how,typed){
const known=saved.schema===this.state.schema&&saved.edition===this.flow.edition;
if(!known||!underWay(saved)){
this.aside={name:"closed",why:known?"over":"edition",saved};
}else if(how==="look"||!this.shelf.hold(id,how==="take")){
this.state={...this.state,...saved};
this.onlyLook(typed);
}else{
this.state=advance(this.flow,{...this.state,...saved},{type:"reopen",samePage:this.waitsHere(id,saved)},now());
}
}
onlyLook(typed){
const free=this.id!==null&&this.shelf.isFree(this.id);
this.aside={name:"elsewhere",free,typed,take:()=>this.openRun(this.id,"take"),other:()=>this.openRun(null,null,typed)};
}
lookAgain(){
if(this.id===null)return;
const saved=this.shelf.read(this.id);
if(saved!==null)this.state={...this.state,...saved};
this.onlyLook(this.aside?.typed??null);
this.redraw();
}
async openPacket(text){
this.aside={name:"packet"};
try{
await handOverScript();
const opened={flow:this.flow,text,result:(null)};
document.dispatchEvent(new CustomEvent("stepward:unpack",{detail:opened}));
this.take(opened.result,text);
}catch{
this.aside={name:"refusedLink",reason:"other"};
}
this.redraw();
this.arrive();
}
take(result,text){
const same=result.run?otherRunOf(this.shelf.store,result.run.about.serial,this.flow.procedure,"-"):null;
if(!result.run||same){
this.aside={name:"refusedLink",text,...(same?{reason:"same",same}:result)};
return;
}
this.aside=null;
this.id=newId();
this.state=advance(this.flow,result.run,{type:"reopen"},now());
this.save();
}
save(){
tabKeeps(this.openKey,this.id);
if(this.id===null)return;
const{procedure,procedures}=this.flow;
if(this.shelf.keep(this.id,{...this.state,title:procedures[procedure].title})==="elsewhere")this.lookAgain();
}
send(event){
if(this.aside!==null&&event.type!=="machine")return;
const before=this.state;
if(event.type==="start"&&this.asksFirst(event))return;
this.state=advance(this.flow,before,event,now());
this.armed=false;
if(this.id===null&&this.state.frames.length>0)this.id=newId();
this.save();
const moved=this.state.changed!==before.changed;
this.redraw();
if(moved)this.arrive();
else this.section.querySelector(".follower__problem")?.scrollIntoView({block:"center"});
}
asksFirst(event){
const{procedure}=this.flow;
this.same=otherRunOf(this.shelf.store,event.serial??"",procedure,"-");
if(this.same?.procedure===procedure){
this.openRun(this.same.id,"look",event);
return true;
}
const was=otherModelOf(this.shelf.store,event.serial??"",event.model??null);
const said=`${event.serial} ${event.model}`;
if(was!==null&&this.doubt?.said===said)event.remark=say("other-model-kept",{model:modelName(this.flow,was)});
this.doubt=was===null?null:{said,was};
if(this.same===null&&(was===null||event.remark))return false;
this.state={...this.state,typed:event,refusal:null};
this.redraw();
this.section.querySelector(".follower__problem")?.scrollIntoView({block:"center"});
return true;
}
redraw(){
const focused=this.section.contains(document.activeElement)?document.activeElement:null;
try{
this.draw();
}catch(problem){
this.section.replaceChildren(make("p",{class:"follower__problem",role:"alert"},say("failed")));
this.wholeText.offer(true);
this.wholeText.putAway(false);
console.error(problem);
}
if(focused!==null&&!this.section.contains(document.activeElement)){
const name=focused.getAttribute("name");
const field=name&&this.section.querySelector(`[name="${name}"]${focused.matches(":checked")?":checked":""}`);
((field)||this.heading())?.focus({preventScroll:true});
}
}
arrive(){
this.heading()?.focus({preventScroll:true});
const top=this.section.getBoundingClientRect().top;
if(top<0||top>innerHeight/3)this.section.scrollIntoView();
}
tick(){
if(this.aside?.name==="elsewhere"){
const free=this.id!==null&&this.shelf.isFree(this.id);
if(free!==this.aside.free)this.lookAgain();
return;
}
const open=this.id!==null&&this.aside?.name!=="closed";
if(open&&this.id!==null&&!this.shelf.hold(this.id)){
this.lookAgain();
return;
}
const before=this.state;
this.state=advance(this.flow,before,{type:"tick"},now());
if(this.state.wait===null)return;
this.save();
const over=(state)=>state.wait.counted>=state.wait.needed;
if(this.state.screen.name!=="wait"||this.aside!==null)return;
if(before.wait===null||over(before)!==over(this.state)||before.wait.doubt!==this.state.wait.doubt)this.redraw();
else if(!over(this.state))this.setClock();
}
setClock(){
const time=this.section.querySelector(".follower__time");
if(time)time.textContent=clockWords(this.state.wait);
}
heading(){
return(this.section.querySelector(".follower__title"));
}
linked(){
if(!this.fromAddress()){
if(!/^#step-/.test(location.hash)||!this.wholeText.away)return;
this.byLink=true;
this.redraw();
}
this.heading()?.focus();
this.section.scrollIntoView();
}
beside(aside){
this.aside=aside;
this.redraw();
this.arrive();
if(aside?.name==="note")(this.section.querySelector("textarea"))?.focus();
}
closeAside(){
const closes=this.aside!==null&&["note","packet"].includes(this.aside.name)&&this.state.frames.length>0;
if(closes)this.beside(null);
return closes;
}
async handOver(){
this.beside({name:"packet"});
try{
await handOverScript();
this.drawPacket();
}catch{
if(this.aside?.name==="packet")this.beside({name:"packet",failed:true});
}
}
drawPacket(){
const into=this.section.querySelector("[data-packet]");
const send=(event)=>{this.send(event);this.drawPacket();};
if(into)document.dispatchEvent(new CustomEvent("stepward:hand-over",{detail:{flow:this.flow,state:this.state,into,send,address:location.href.split("#")[0]}}));
}
view(){
const{flow,state}=this;
const runs=this.shelf.runs().filter((one)=>one.id!==this.id||one.procedure!==flow.procedure);
return{
flow,state,notices:this.notices(),sign:signOf,words:(procedure,step)=>wordsOf(flow,procedure,step),
send:(event)=>this.send(event),close:()=>this.beside(null),handOver:()=>this.handOver(),
shelf:{
procedure:flow.procedure,room:this.shelf.room,same:this.same,doubt:this.doubt,runs,store:this.shelf.store,tab:this.shelf.tab,wall:Date.now(),hand:this.hand,
open:(id)=>this.openRun(id),
waitsHere:(kept)=>this.waitsHere(kept.id,kept.state),
forget:(kept)=>{this.shelf.forget(kept.id,kept.procedure);this.redraw();},
},
};
}
draw(){
const view=this.view();
const{state,aside}=this;
const drawing=aside===null?drawScreen(view):drawAside(view,aside);
const open=[...this.section.querySelectorAll("details[open]")].map((one)=>one.className);
const card=drawCard(view,drawing,{name:aside?.name??state.screen.name,banner:this.banner(),note:aside===null?()=>this.beside({name:"note"}):null});
this.section.replaceChildren(card,...(aside===null||aside.name==="elsewhere"?sheets(view,{again:(button)=>this.restart(button),hand:()=>this.changeHand(),open,only:aside!==null}):[]));
this.section.setAttribute("aria-labelledby","follower-title");
this.section.dataset.hand=this.hand;
this.wholeText.offer(state.frames.length===0);
markChart(this.flow,state);
this.awake.keep(state.screen.name==="wait"&&aside===null);
}
banner(){
return this.state.frames.length>0&&this.shelf.room!=="works"?[make("p",{class:"follower__notice","data-room":this.shelf.room},say(`store-${this.shelf.room}`))]:[];
}
notices(){
const procedure=this.flow.procedures[this.flow.procedure];
const today=new Date().toISOString().slice(0,10);
return[
this.byLink&&say("link-to-step"),
procedure.status!=="released"&&say("not-released"),
procedure.reviewBy!==null&&procedure.reviewBy<today&&say("review-overdue",{day:procedure.reviewBy}),
].filter((text)=>typeof text==="string");
}
restart(button){
if(!this.armed){
this.armed=true;
button.textContent=say("confirm-start-again");
return;
}
if(this.id!==null)this.shelf.forget(this.id);
this.openRun(null);
}
changeHand(){
this.hand=this.hand==="left"?"right":"left";
try{
localStorage.setItem(HAND,this.hand);
}catch{
}
this.redraw();
}
}
return{startFollower};
})();
modules["script/start.js"]=(function(){
const{startFollower}=modules["parts/follower/follower.js"];
const{make}=modules["parts/follower/make.js"];
const PARTS={follower:startFollower};
function startParts(root){
for(const element of root.querySelectorAll("[data-part]")){
const start=PARTS[element.getAttribute("data-part")??""];
try{
if(start&&element instanceof HTMLElement)start(element);
}catch(problem){
if(element instanceof HTMLElement&&element.dataset.part==="follower")element.hidden=true;
root.querySelectorAll(".is-put-away").forEach((text)=>text.classList.remove("is-put-away"));
console.error(problem);
}
}
}
function awaitChart(page){
const section=page.querySelector("[data-part=chart]");
const{chart}=page.body.dataset;
if(!section||!chart)return;
const watcher=new IntersectionObserver((entries)=>{
if(!entries.some((entry)=>entry.isIntersecting))return;
watcher.disconnect();
page.head.append(make("script",{src:chart}));
},{rootMargin:"100%"});
watcher.observe(section);
}
if(typeof document!=="undefined"){
startParts(document);
awaitChart(document);
}
return{startParts};
})();
})();
