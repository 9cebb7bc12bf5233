"use strict";
(function(){
const modules=(globalThis.stepwardModules??={});
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
modules["script/trade/number.js"]=(function(){
function power(exponent){
let power=1;
for(let n=0;n<exponent;n+=1)power*=10;
return power;
}
function rounding(value,figures){
let before=1;
while(before<18&&Math.abs(value)>=power(before))before+=1;
if(figures<before)return[0,power(before-figures)];
let places=figures-before;
while(value!==0&&places<12&&before===1&&Math.abs(value)*power(places)<power(figures-1))places+=1;
return[places,1];
}
function apart(text){
const[whole,rest]=text.split(".");
if(whole.length<5)return text;
const grouped=whole.replace(/\B(?=(\d{3})+$)/g,"\u202f");
return rest===undefined?grouped:`${grouped}.${rest}`;
}
function shown(value,digits){
const[places,unit]=typeof digits.figures==="number"?rounding(value,digits.figures):[digits.places??0,1];
const scale=power(places);
const whole=(Math.floor((value/unit)*scale+0.5)/scale)*unit;
return`${whole<0?"\u2212":""}${apart(Math.abs(whole).toFixed(places))}`;
}
return{shown};
})();
modules["script/trade/sum.js"]=(function(){
const{evaluateFormula}=modules["script/formula.js"];
function met(need,names){
const value=evaluateFormula(need.rpn,names);
return value!==null&&value>=need.from&&(need.to===null||value<=need.to);
}
function answersOf(sum,values){
const names={...values};
let refused=null;
return sum.results.map((outcome)=>{
if(refused===null&&outcome.need!==null&&!met(outcome.need,names))refused=outcome.need.says;
if(refused!==null)return{says:refused};
const value=evaluateFormula(outcome.rpn,names);
if(value===null)return{nothing:true};
names[outcome.id]=value;
return{value};
});
}
return{answersOf};
})();
modules["script/trade/colour.js"]=(function(){
function channel(value){
const share=(value&0xff)/255;
return share<=0.04045?share/12.92:Math.pow((share+0.055)/1.055,2.4);
}
function luminance(colour){
return 0.2126*channel(colour>>16)+0.7152*channel(colour>>8)+0.0722*channel(colour);
}
function contrast(one,other){
const[a,b]=[luminance(one),luminance(other)];
return(Math.max(a,b)+0.05)/(Math.min(a,b)+0.05);
}
return{contrast};
})();
modules["script/trade/count.js"]=(function(){
const TAIL=0.025;
const HALVINGS=200;
function atMost(count,mean){
let term=Math.exp(-mean);
let sum=term;
for(let n=1;n<=count;n+=1){
term*=mean/n;
sum+=term;
}
return sum;
}
function meanWhere(wanted,most,chance){
let[low,high]=[0,most];
for(let n=0;n<HALVINGS;n+=1){
const middle=(low+high)/2;
if(chance(middle)>wanted)low=middle;
else high=middle;
}
return(low+high)/2;
}
function poissonLimits(count){
const most=count+6*Math.sqrt(count+1)+10;
const low=count===0?0:meanWhere(1-TAIL,most,(mean)=>atMost(count-1,mean));
return[low,meanWhere(TAIL,most,(mean)=>atMost(count,mean))];
}
return{poissonLimits};
})();
modules["script/trade/order.js"]=(function(){
function expected(checks,order,setup){
let[open,made,sum]=[1,false,0];
for(const{share,minutes,afterSetup}of order.map((place)=>checks[place])){
const first=afterSetup&&!made;
made||=afterSetup;
sum+=(minutes+(first?setup:0))*open;
open-=share;
}
return sum;
}
function byRatio(checks){
const ratio=(place)=>checks[place].share/checks[place].minutes;
return checks.map((_,place)=>place).sort((a,b)=>ratio(b)-ratio(a));
}
function*orders(count,order=[]){
if(order.length===count)yield order;
else for(let place=0;place<count;place+=1)if(!order.includes(place))yield*orders(count,[...order,place]);
}
function best(checks,setup){
let least=Infinity;
let found=[];
for(const order of orders(checks.length)){
const minutes=expected(checks,order,setup);
if(minutes<least-1e-9)[least,found]=[minutes,order];
}
return found;
}
return{expected,byRatio,best};
})();
modules["script/trade/paper.js"]=(function(){
const RULE=1;
function tolerance(side){
return side<=150?1.5:side<=600?2:3;
}
function fits(measured,side){
return Math.abs(measured-side)<=tolerance(side)+RULE;
}
function sizesOf(sizes,width,length){
return sizes.filter(([,w,l])=>fits(width,w)&&fits(length,l));
}
function sizesOfWidth(sizes,width){
return sizes.filter(([,w])=>fits(width,w));
}
return{sizesOf,sizesOfWidth};
})();
modules["script/trade/roller.js"]=(function(){
const READ_TO=0.5;
const TOLERANCE=0.2;
const SURE=0.95;
const FITS=3;
const WITHIN=1.5;
const SHEET=297;
function doubt(gaps){
return(Math.sqrt(2)*READ_TO)/gaps;
}
function shares(rollers,step,gaps){
const spread=Math.sqrt(doubt(gaps)**2+TOLERANCE**2);
const off=rollers.map((roller)=>(step-roller.distance)/spread);
const reach=Math.max(WITHIN,FITS*spread);
if(!rollers.some((roller)=>Math.abs(step-roller.distance)<=reach))return null;
const likely=rollers.map((roller,place)=>roller.weight*Math.exp(-(off[place]**2)/2));
const sum=likely.reduce((all,one)=>all+one,0);
return sum>0?likely.map((one)=>one/sum):null;
}
function gapsToMeasure(rollers,step,gaps){
const now=shares(rollers,step,gaps);
if(now===null)return null;
const best=rollers[now.indexOf(Math.max(...now))];
for(let more=1;more<=12;more+=1){
if(more<=gaps||more*best.distance>SHEET)continue;
if((shares(rollers,best.distance,more)??[]).some((share)=>share>=SURE))return more;
}
return null;
}
function multiples(rollers,step){
return rollers.flatMap((roller,place)=>
[2,3,4].filter((times)=>Math.abs(step-times*roller.distance)<=WITHIN).map((times)=>([place,times])));
}
return{SURE,doubt,shares,gapsToMeasure,multiples};
})();
modules["script/trade/work.js"]=(function(){
const{contrast}=modules["script/trade/colour.js"];
const{poissonLimits}=modules["script/trade/count.js"];
const{shown}=modules["script/trade/number.js"];
const{best,byRatio,expected}=modules["script/trade/order.js"];
const{sizesOf,sizesOfWidth}=modules["script/trade/paper.js"];
const{doubt,gapsToMeasure,multiples,shares,SURE}=modules["script/trade/roller.js"];
const row=(key,...values)=>({key,values});
const places=(value,places)=>shown(value,{places});
function whichRoller({length,gaps},{rollers}){
const step=length/gaps;
const rows=[row("roller-step",["step",places(step,1)],["doubt",places(doubt(gaps),2)])];
const found=shares(rollers,step,gaps);
if(found===null)rows.push(row("roller-none"));
else{
const all=rollers.map((roller,place)=>({...roller,share:found[place]})).filter(({share})=>share>=0.005).sort((a,b)=>b.share-a.share);
rows.push(...all.map((one)=>row("roller-share",["roller",one.name],["distance",places(one.distance,1)],["share",places(one.share*100,1)])));
const more=gapsToMeasure(rollers,step,gaps);
if(all.length>0&&all[0].share>=SURE)rows.push(row("roller-sure"));
else rows.push(more===null?row("roller-alike"):row("roller-more",["gaps",String(more)]));
}
return[...rows,...multiples(rollers,step).map(([place,times])=>
row("roller-multiple",["roller",rollers[place].name],["distance",places(rollers[place].distance,1)],["times",String(times)]))];
}
function paperSize({width,length},{sizes}){
const line=(key)=>([name,w,l])=>row(key,["size",name],["width",places(w,1)],["length",places(l,1)]);
const fits=sizesOf(sizes,width,length);
return fits.length>0?fits.map(line("paper-fits")):[row("paper-none"),...sizesOfWidth(sizes,width).map(line("paper-width"))];
}
function jamRate({faults,sheets}){
const[low,high]=poissonLimits(faults);
const thousand=(count)=>shown((count/sheets)*1000,{figures:2});
return[row("jam-rate",["rate",thousand(faults)],["low",thousand(low)],["high",thousand(high)])];
}
function checkOrder(values){
const checks=[];
for(let n=1;Object.hasOwn(values,`share-${n}`);n+=1){
checks.push({share:values[`share-${n}`]/100,minutes:values[`minutes-${n}`],afterSetup:values[`after-${n}`]===1});
}
if(checks.reduce((sum,check)=>sum+check.share,0)>1+1e-9)return[row("order-too-much")];
const found=best(checks,values.setup);
const line=(key,order)=>
row(key,["order",order.map((place)=>place+1).join(", ")],["minutes",places(expected(checks,order,values.setup),1)]);
return[line("order-best",found),line("order-plain",byRatio(checks)),line("order-back",[...found].reverse())];
}
function contrastOf({front,ground}){
const ratio=contrast(front,ground);
const verdict=ratio>=4.5?"contrast-words":ratio>=3?"contrast-large":"contrast-fails";
return[row("contrast",["ratio",places(ratio,2)]),row(verdict)];
}
const WORKS={"which-roller":whichRoller,"paper-size":paperSize,"jam-rate":jamRate,"check-order":checkOrder,contrast:contrastOf};
return{WORKS};
})();
modules["parts/sums/cooling.js"]=(function(){
const[LEFT,RIGHT,TOP,BOTTOM,HOTTEST,POINTS]=[44,350,12,168,250,48];
function drawCooling(figure,{hot,room,safe,tau}){
const wait=tau*Math.log((hot-room)/(safe-room));
const longest=Math.max(wait*1.5,1);
const x=(minutes)=>LEFT+(minutes/longest)*(RIGHT-LEFT);
const y=(degrees)=>BOTTOM-(degrees/HOTTEST)*(BOTTOM-TOP);
const set=(what,attributes)=>{
const element=figure.querySelector(what);
for(const[name,value]of Object.entries(attributes))element?.setAttribute(name,value);
return element;
};
const points=Array.from({length:POINTS+1},(_,n)=>{
const minutes=(longest*n)/POINTS;
return`${x(minutes).toFixed(1)},${y(room+(hot-room)*Math.exp(-minutes/tau)).toFixed(1)}`;
});
set(".curve__line",{points:points.join(" ")});
set(".curve__limit",{d:`M${LEFT} ${y(safe).toFixed(1)}H${RIGHT}`});
set(".curve__limit ~ .curve__limit",{d:`M${x(wait).toFixed(1)} ${TOP}V${BOTTOM}`});
const mark=set(".curve__text--mark",{x:x(wait).toFixed(1)});
if(mark)mark.textContent=wait.toFixed(1);
}
return{drawCooling};
})();
modules["parts/sums/sums.js"]=(function(){
const{readNumber}=modules["script/reading.js"];
const{shown}=modules["script/trade/number.js"];
const{answersOf}=modules["script/trade/sum.js"];
const{WORKS}=modules["script/trade/work.js"];
const{make}=modules["parts/follower/make.js"];
const{say:sayOf}=modules["parts/follower/words.js"];
const{drawCooling}=modules["parts/sums/cooling.js"];
const say=(key,values={})=>sayOf(key,values,"sums");
const RULER=180;
function fieldFor(input,key,models){
const named={id:key,name:input.id,"aria-labelledby":`${key}-label`,"aria-describedby":`${key}-range ${key}-refusal`};
if(input.kind==="number")return make("input",{...named,value:String(input.value),inputmode:input.from.startsWith("-")?"text":input.whole?"numeric":"decimal",autocomplete:"off"});
if(input.kind==="colour")return make("input",{...named,value:`#${input.value.toString(16).padStart(6,"0").toUpperCase()}`,autocomplete:"off",spellcheck:"false"});
const options=input.kind==="model"?models.map(({name},place)=>[name,place]):input.choices;
return make("select",named,...options.map(([name,value])=>make("option",{value,selected:value===input.value},String(name))));
}
function readField(input,typed){
if(input.kind==="choice"||input.kind==="model")return{value:Number(typed)};
if(input.kind==="colour"){
const digits=/^#?([0-9a-f]{6})$/i.exec(typed.trim());
return digits?{value:Number.parseInt(digits[1],16)}:{refusal:say("refused-colour")};
}
const read=readNumber(typed,input);
if("value"in read)return{value:Number(read.value),edge:read.value===input.from||read.value===input.to};
const range={from:input.from.replace("-","\u2212"),to:input.to,unit:input.unit};
const parts=[say(`refused-${read.reason}`,range)];
if(read.reason==="range"){
const[meant]=read.meant??[];
if(input.slip)parts.push(say("refused-slip",{slip:input.slip}));
if(meant)parts.push(say("refused-meant",{value:`${meant.value} ${input.unit}`.trim()}));
}
return{refusal:parts.join(" ")};
}
function resultsOf(sum,values,data){
if(sum.work!==null){
const rollers=data.models[values.model??0]?.rollers??[];
return WORKS[sum.work](values,{rollers,sizes:data.sizes}).map(({key,values:filled})=>make("p",{class:"sum__row"},say(`row-${key}`,Object.fromEntries(filled))));
}
return answersOf(sum,values).map((answer,place)=>{
const outcome=sum.results[place];
if("says"in answer)return make("p",{class:"sum__refusal"},answer.says);
if("nothing"in answer)return make("p",{class:"sum__refusal"},say("nothing"));
return make("p",{class:"sum__result"},make("span",{},outcome.name)," ",
make("span",{class:"sum__number"},shown(answer.value,outcome))," ",make("span",{class:"sum__unit"},outcome.unit));
});
}
function steps(step){
let path="";
for(let x=step;x<=RULER-4;x+=step)path+=`M${(x+2).toFixed(2)} 10V${RULER}`;
return path;
}
function once(lines){
return lines.filter((line,place)=>line.className!=="sum__refusal"||lines.findIndex((other)=>other.textContent===line.textContent)===place);
}
function bring(form,sum,data){
const fields=sum.inputs.map((input)=>{
const box=(form.querySelector(`[data-field="${input.id}"]`));
const key=`${sum.id}-${input.id}`;
const field=(fieldFor(input,key,data.models));
const refusal=make("p",{class:"sum__refusal",id:`${key}-refusal`,"aria-live":"polite"});
box.querySelector("[data-value]")?.replaceWith(field);
box.append(refusal);
if(input.kind==="choice")box.querySelector(".sum__range")?.replaceChildren();
return{input,field,refusal};
});
const work=()=>{
const values={};
let whole=true;
for(const{input,field,refusal}of fields){
const read=readField(input,field.value);
const refused="refusal"in read;
if(refused)whole=false;
else values[input.id]=read.value;
refusal.textContent=refused?read.refusal:read.edge?say("at-edge"):"";
refusal.classList.toggle("sum__refusal--edge",!refused);
field.setAttribute("aria-invalid",String(refused));
}
const results=form.querySelector("[data-results]");
results?.replaceChildren(...(whole?once(resultsOf(sum,values,data)):[make("p",{class:"sum__refusal"},say("missing"))]));
const figure=form.querySelector("[data-drawing]");
if(figure){
const can=whole&&answersOf(sum,values).every((answer)=>"value"in answer);
figure.toggleAttribute("hidden",!can);
if(can)drawCooling(figure,values);
}
form.querySelectorAll("[data-ruler]").forEach((ruler,place)=>{
ruler.toggleAttribute("hidden",place!==(values.model??0));
ruler.querySelector(".ruler__reading")?.setAttribute("d",whole?steps(values.length/values.gaps):"");
});
};
const head=form.querySelector("[data-head]");
for(const{field}of fields)field.addEventListener("input",()=>{
if(head)head.textContent=say("result");
work();
});
work();
return(figures)=>{
for(const{input,field}of fields)if(input.figure!==null&&Object.hasOwn(figures,input.figure)&&takes(input,figures[input.figure]))field.value=figures[input.figure];
work();
};
}
function takes(input,figure){
return input.kind==="choice"?input.choices.some(([,value])=>value===Number(figure)):"value"in readField(input,figure);
}
function figureChoice(data,fills){
const place=document.querySelector("[data-figures]");
if(!place||data.figures.length===0)return;
const options=[make("option",{value:""},say("figures-none")),...data.figures.map((model,n)=>make("option",{value:n},model.name))];
const field=(make("select",{id:"figures"},...options));
field.addEventListener("input",()=>{
if(field.value!=="")for(const fill of fills)fill(data.figures[Number(field.value)].figures);
});
place.append(make("div",{class:"sum__fields sum__fields--page"},make("div",{class:"sum__field"},
make("label",{class:"sum__label",for:"figures"},say("figures")),make("p",{class:"sum__entry"},field),make("p",{class:"sum__range"},say("figures-help")))));
}
const element=globalThis.document?.getElementById("sums-data");
if(element){
const data=JSON.parse(element.textContent??"{}");
const forms=data.sums.map((sum)=>({sum,form:document.getElementById(sum.id)})).filter(({form})=>form!==null);
figureChoice(data,forms.map(({sum,form})=>bring(form,sum,data)));
const asked=document.getElementById(location.hash.slice(1))?.closest("details");
if(asked)asked.open=true;
}
return{readField};
})();
})();
